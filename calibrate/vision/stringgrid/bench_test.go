package stringgrid

import (
	"image"
	"image/draw"
	"image/jpeg"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fieldjacket/calibrate"
)

// benchPhotos are the photos that the stages are timed on: those of the folder
// that BENCH_PHOTOS names, or one drawn here.
func benchPhotos(b *testing.B) map[string]Photo {
	folder := os.Getenv("BENCH_PHOTOS")
	if folder == "" {
		d := newDrawing(1)
		d.lines(7, 130, 330, 170, shade)
		d.lines(7, 130, 300, 150, white)
		return map[string]Photo{"drawn": d.photo()}
	}
	out := map[string]Photo{}
	files, err := filepath.Glob(filepath.Join(folder, "*.[jJ][pP][gG]"))
	if err != nil || len(files) == 0 {
		b.Fatalf("no photos in %s: %v", folder, err)
	}
	for _, file := range files {
		if p, ok := photoOf(b, file); ok {
			out[filepath.Base(file)] = p
		}
	}
	return out
}

// photoOf reads a photo as stored; false: none that can be decoded.
func photoOf(b testing.TB, file string) (Photo, bool) {
	f, err := os.Open(file)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		return Photo{}, false
	}
	size := img.Bounds().Size()
	rgba := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(rgba, rgba.Rect, img, img.Bounds().Min, draw.Src)
	p := Photo{WidthPx: size.X, HeightPx: size.Y, BGR: make([]uint8, 3*size.X*size.Y), Camera: calibrate.Camera{WidthPx: size.X, HeightPx: size.Y, Focal35Mm: 26}}
	for i := range size.X * size.Y {
		p.BGR[3*i], p.BGR[3*i+1], p.BGR[3*i+2] = rgba.Pix[4*i+2], rgba.Pix[4*i+1], rgba.Pix[4*i]
	}
	p.Lines, p.Factor = linesOf(&p)
	return p, true
}

// BenchmarkStages times the stages between a photo's thin lines and its marks.
func BenchmarkStages(b *testing.B) {
	photos := benchPhotos(b)
	for _, name := range slices.Sorted(maps.Keys(photos)) {
		p := photos[name]
		full, _ := p.raster()
		f := intrinsicsOf(p.Camera)
		_, _, focalKnown := p.Camera.FocalPx()
		search := func() (found []*lattice, all [][]ray) {
			rng := rand.New(rand.NewPCG(1, 2))
			for _, group := range looks(p.Lines) {
				rays := rays(group, f, p.Factor)
				for _, l := range lattices(rays, f, p.Camera, focalKnown, rng) {
					found, all = append(found, l), append(all, rays)
				}
			}
			return found, all
		}
		b.Run(name+"/lattices", func(b *testing.B) {
			for b.Loop() {
				search()
			}
		})
		found, all := search()
		for i, l := range found {
			r, why := l.read(all[i], full, f, p.Camera, p.Factor)
			if why != nil || r.judge(false) != nil {
				continue
			}
			b.Run(name+"/reading", func(b *testing.B) {
				for b.Loop() {
					l.read(all[i], full, f, p.Camera, p.Factor)
				}
			})
			marks := inCm(r.marks(), 10)
			b.Run(name+"/fit", func(b *testing.B) {
				for b.Loop() {
					if _, err := calibrate.FitGrid(calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, p.Camera, marks); err != nil {
						b.Fatal(err)
					}
				}
			})
			break
		}
	}
}
