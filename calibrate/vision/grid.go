//go:build cgo

package vision

import (
	"fmt"
	"image"
	"math/rand/v2"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// gridLookingPx is the long side of the reduced picture in which a grid's
// lines are looked for.
const gridLookingPx = 1008

// findGrid finds a grid of strings or wires: segments of thin lines in the
// reduced picture, a square lattice through them, then the strings at full
// size. Lines lighter or of another colour than the ground are tried first,
// then darker ones: a light grid's shadow is a dark grid.
func findGrid(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found {
	w, h := p.Size()
	bgr, err := p.Colour.DataPtrUint8()
	if err != nil || len(bgr) != 3*w*h || min(w, h) < 64 {
		return look.Found{Refused: refuseFew("the picture is too small to hold a grid")}
	}
	full := raster{w, h, bgr}
	light, dark, factor := gridRidges(p)
	f := frameOf(camera)
	_, _, focalKnown := camera.FocalPx()
	var refused *calibrate.Refusal
	for k, ridges := range []*ridgeMap{light, dark} {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		all := rays(ridges.segments(), f, factor)
		l, why := findLattice(all, f, camera, focalKnown, rng)
		var r *reading
		if why == nil {
			r, why = l.read(full, f, camera, factor)
		}
		if why == nil {
			why = r.judge(ref)
		}
		if why == nil {
			return look.Found{Marks: inCm(r.marks(), ref.PitchCm), Counted: fmt.Sprintf("%d x %d strings", r.box.lines(0), r.box.lines(1))}
		}
		if refused == nil || l != nil {
			refused = why
		}
	}
	return look.Found{Refused: refused}
}

// gridRidges is the ridge maps of the picture, for light and coloured lines
// and for dark ones, and the factor by which it was reduced.
func gridRidges(p *Picture) (light, dark *ridgeMap, factor float64) {
	w, h := p.Size()
	factor = max(1, float64(max(w, h))/gridLookingPx)
	size := image.Pt(max(1, int(float64(w)/factor+0.5)), max(1, int(float64(h)/factor+0.5)))
	small := gocv.NewMat()
	defer small.Close()
	if factor > 1 {
		gocv.Resize(p.Colour, &small, size, 0, 0, gocv.InterpolationArea)
	} else {
		p.Colour.CopyTo(&small)
	}
	light, dark = newRidgeMap(size.X, size.Y), newRidgeMap(size.X, size.Y)
	bgr, err := small.DataPtrUint8()
	if err != nil || len(bgr) != 3*size.X*size.Y {
		return light, dark, factor
	}
	logs := gocv.NewMatWithSize(size.Y, size.X, gocv.MatTypeCV32FC3)
	defer logs.Close()
	blurred := gocv.NewMat()
	defer blurred.Close()
	out, err := logs.DataPtrFloat32()
	if err != nil || len(out) != len(bgr) {
		return light, dark, factor
	}
	logPicture(bgr, out)
	for _, sigma := range []float64{1, 2} {
		gocv.GaussianBlur(logs, &blurred, image.Point{}, sigma, sigma, gocv.BorderReflect101)
		if flat, err := blurred.DataPtrFloat32(); err == nil && len(flat) == len(bgr) {
			addRidges(flat, light, dark)
		}
	}
	return light, dark, factor
}

// inCm names marks in centimetres, the box's first lines being 0.
func inCm(marks []calibrate.Mark, pitchCm float64) []calibrate.Mark {
	for i := range marks {
		marks[i].UCm *= pitchCm
		marks[i].VCm *= pitchCm
	}
	return marks
}
