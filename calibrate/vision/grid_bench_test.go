//go:build cgo

package vision

import (
	"maps"
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
		drawn := manualCases(20)["grid"].scene
		drawn.Camera.WidthPx, drawn.Camera.HeightPx = 4032, 3024
		img, _ := drawn.Render()
		p := opened(b, img, 26)
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
		p := &Picture{source: look.Source{Focal35Mm: 26}, Colour: raw, Grey: gocv.NewMat()}
		gocv.CvtColor(p.Colour, &p.Grey, gocv.ColorBGRToGray)
		out[strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))] = p
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

// BenchmarkGrid times what becomes of a photo once it is decoded, in ms of the
// processor (cpu-ms): its thin lines, and all that the grid takes. The stages
// between are timed beside the finder.
func BenchmarkGrid(b *testing.B) {
	photos := benchPhotos(b)
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}
	for _, name := range slices.Sorted(maps.Keys(photos)) {
		p := photos[name]
		b.Run(name+"/lines", func(b *testing.B) { timed(b, func() { thinLines(p) }) })
		b.Run(name+"/whole", func(b *testing.B) {
			timed(b, func() {
				p.lines = nil
				findGrid(p, ref, p.Camera(), 1)
			})
		})
	}
}
