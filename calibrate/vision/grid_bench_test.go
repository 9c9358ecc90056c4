//go:build cgo

package vision

import (
	"errors"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// benchPhotos are the photos that the grid's stages are timed on: those of the
// folder that BENCH_PHOTOS names, or one of 12 megapixels drawn here.
func benchPhotos(b *testing.B) map[string]*Picture {
	OneThread()
	out := map[string]*Picture{}
	b.Cleanup(func() {
		for _, p := range out {
			p.Close()
		}
	})
	folder := os.Getenv("BENCH_PHOTOS")
	if folder == "" {
		d := newDrawing(1)
		d.lines(7, 130, 330, 170, shade)
		d.lines(7, 130, 300, 150, white)
		small, err := gocv.NewMatFromBytes(d.height, d.width, gocv.MatTypeCV8UC3, d.pixels)
		if err != nil {
			b.Fatal(err)
		}
		defer small.Close()
		p := &Picture{Colour: gocv.NewMat(), Grey: gocv.NewMat()}
		gocv.Resize(small, &p.Colour, image.Pt(4032, 3024), 0, 0, gocv.InterpolationCubic)
		out["drawn"] = p
		return out
	}
	files, err := filepath.Glob(filepath.Join(folder, "*.[jJ][pP][gG]"))
	if err != nil || len(files) == 0 {
		b.Fatalf("no photos in %s: %v", folder, err)
	}
	for _, file := range files {
		raw := gocv.IMRead(file, gocv.IMReadColor|gocv.IMReadIgnoreOrientation)
		if raw.Empty() {
			raw.Close()
			continue
		}
		out[strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))] = &Picture{source: look.Source{Focal35Mm: 26}, Colour: raw, Grey: gocv.NewMat()}
	}
	return out
}

// cpu is the processor time that this process has used, in ms, its collector's included.
func cpu() float64 {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		return 0
	}
	return float64((time.Duration(r.Utime.Nano()) + time.Duration(r.Stime.Nano())).Microseconds()) / 1000
}

// timed reports what a stage takes of the processor.
func timed(b *testing.B, stage func()) {
	began := cpu()
	for b.Loop() {
		stage()
	}
	b.ReportMetric((cpu()-began)/float64(b.N), "cpu-ms")
}

// BenchmarkGrid times what becomes of a photo once it is decoded, stage by
// stage and as a whole, in ms of the processor (cpu-ms).
func BenchmarkGrid(b *testing.B) {
	photos := benchPhotos(b)
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}
	var names []string
	for name := range photos {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		p := photos[name]
		w, h := p.Size()
		bgr, err := p.Colour.DataPtrUint8()
		if err != nil {
			b.Fatal(err)
		}
		full, f, camera := raster{w, h, bgr}, frameOf(p.Camera()), p.Camera()
		segs, factor := gridSegments(p)
		b.Run(name+"/segments", func(b *testing.B) { timed(b, func() { gridSegments(p) }) })
		search := func() (found []*lattice, all [][]ray) {
			rng := rand.New(rand.NewPCG(1, 2))
			for _, group := range looks(segs) {
				rays := rays(group, f, factor)
				for _, l := range lattices(rays, f, camera, true, rng) {
					found, all = append(found, l), append(all, rays)
				}
			}
			return found, all
		}
		b.Run(name+"/lattices", func(b *testing.B) { timed(b, func() { search() }) })
		var r *reading
		found, all := search()
		for i, l := range found {
			var why *calibrate.Refusal
			if r, why = l.read(all[i], full, f, camera, factor); why == nil && r.judge(false) == nil {
				b.Run(name+"/reading", func(b *testing.B) { timed(b, func() { l.read(all[i], full, f, camera, factor) }) })
				break
			}
			r = nil
		}
		if r != nil {
			marks := inCm(r.marks(), 10)
			b.Run(name+"/fit", func(b *testing.B) {
				timed(b, func() {
					var refusal *calibrate.Refusal
					if _, err := calibrate.FitGrid(ref, camera, marks); err != nil && !errors.As(err, &refusal) {
						b.Fatal(err)
					}
				})
			})
		}
		b.Run(name+"/whole", func(b *testing.B) { timed(b, func() { findGrid(p, ref, camera, 1) }) })
	}
}
