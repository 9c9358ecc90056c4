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

// maxReadings is how many lattices of one photo are measured at full size, so
// that a photo full of lines does not take for ever.
const maxReadings = 6

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
	segs, factor := gridSegments(p)
	p.considerSegments(segs, factor)
	f := frameOf(camera)
	_, _, focalKnown := camera.FocalPx()
	rng := rand.New(rand.NewPCG(seed, 0x6772696473))
	refused, furthest := refuseFew("no grid of strings found"), 0
	var passed []*reading
	readings := 0
	for _, group := range looks(segs) {
		all := rays(group, f, factor)
		for _, l := range lattices(all, f, camera, focalKnown, rng) {
			if readings++; readings > maxReadings {
				break
			}
			// Of many refusals the one that came furthest says most.
			step := 1
			r, why := l.read(all, full, f, camera, factor)
			if why == nil {
				why, step = r.judge(false), 2
			}
			if why == nil {
				why, step = r.fits(ref, camera), 3
			}
			if why != nil {
				if step > furthest {
					refused, furthest = why, step
					p.considerLattice(l)
				}
				continue
			}
			if why = r.rival(all, full, f, camera, factor, focalKnown, rng); why != nil {
				return look.Found{Refused: why}
			}
			passed = append(passed, r)
		}
		if len(passed) > 0 && passed[len(passed)-1].hides() < surelyString {
			break
		}
	}
	r, why := choose(passed)
	switch {
	case why != nil:
		return look.Found{Refused: why}
	case r == nil:
		return look.Found{Refused: refused}
	}
	return look.Found{Marks: inCm(r.marks(), ref.PitchCm), Counted: fmt.Sprintf("%d x %d strings", r.box.lines(0), r.box.lines(1))}
}

// gridSegments is the segments of the reduced picture, of all kinds, and the
// factor by which it was reduced.
func gridSegments(p *Picture) (segs []segment, factor float64) {
	w, h := p.Size()
	factor = max(1, float64(max(w, h))/gridLookingPx)
	size := image.Pt(max(1, int(float64(w)/factor+0.5)), max(1, int(float64(h)/factor+0.5)))
	small := p.means(size)
	defer small.Close()
	bgr, err := small.DataPtrUint8()
	if err != nil || len(bgr) != 3*size.X*size.Y {
		return nil, factor
	}
	plane, blurred, light := gocv.NewMatWithSize(size.Y, size.X, gocv.MatTypeCV32FC1), gocv.NewMat(), gocv.NewMat()
	defer plane.Close()
	defer blurred.Close()
	defer light.Close()
	out, err := plane.DataPtrFloat32()
	if err != nil || 3*len(out) != len(bgr) {
		return nil, factor
	}
	strengths, rest := nothing(3*size.Y, size.X, gocv.MatTypeCV32FC1), nothing(6*size.Y, size.X, gocv.MatTypeCV8UC1)
	defer strengths.Close()
	defer rest.Close()
	z, err := strengths.DataPtrFloat32()
	if err != nil {
		return nil, factor
	}
	degKind, err := rest.DataPtrUint8()
	if err != nil {
		return nil, factor
	}
	maps := newRidgeMaps(size.X, size.Y, z, degKind[:len(z)], degKind[len(z):])
	for channel := range logChannels {
		logPlane(bgr, channel, out)
		for _, sigma := range []float64{1, 2} {
			into := &blurred
			if channel == 0 && sigma == 1 {
				into = &light
			}
			side := int(6*sigma) + 1
			gocv.GaussianBlur(plane, into, image.Pt(side, side), sigma, sigma, gocv.BorderReflect101)
			flat, err := into.DataPtrFloat32()
			if err != nil || len(flat) != len(out) {
				return nil, factor
			}
			maps.add(channel, flat)
		}
	}
	for _, m := range []*ridgeMap{maps.light, maps.dark, maps.colour} {
		segs = append(segs, m.segments()...)
	}
	lightness, err := light.DataPtrFloat32()
	if err != nil {
		return nil, factor
	}
	for i := range segs {
		if segs[i].kind == darker {
			segs[i].follows = segs[i].follow(lightness, size.X, size.Y)
		}
	}
	return segs, factor
}

// nothing is a matrix of zeros. It is OpenCV's memory, which a child goes on
// using from photo to photo: Go's is given back to the system in between.
func nothing(rows, cols int, kind gocv.MatType) gocv.Mat {
	return gocv.NewMatWithSizeFromScalar(gocv.NewScalar(0, 0, 0, 0), rows, cols, kind)
}
