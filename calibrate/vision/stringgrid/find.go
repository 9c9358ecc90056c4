package stringgrid

import (
	"fmt"
	"math/rand/v2"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// LookingPx is the long side of the reduced picture in which a grid's lines
// are looked for.
const LookingPx = 1008

// maxReadings is how many lattices of one photo are measured at full size, so
// that a photo full of lines does not take for ever.
const maxReadings = 6

// A Photo is what is read of a photo: its pixels and the thin lines in it.
type Photo struct {
	WidthPx, HeightPx int
	BGR               []uint8 // upright, row by row
	Camera            calibrate.Camera
	Lines             []Segment // of the reduced picture
	Factor            float64   // full size over the reduced picture's
	Telling           bool      // a refusal also tells what was considered

	// Layers makes the layers for the long way, finest first, which hold until
	// done is called. nil: only the first look is taken.
	Layers func() (layers []Layer, done func())
}

// raster is the photo at full size; false where it is too small to hold a grid.
func (p *Photo) raster() (raster, bool) {
	w, h := p.WidthPx, p.HeightPx
	return raster{w, h, p.BGR}, len(p.BGR) == 3*w*h && min(w, h) >= 64
}

// Find finds a grid of strings or wires. The first look sees tidy ones that
// fill a good part of the picture. Where it does not settle, the long way looks
// for uneven and small ones at full size. seed feeds the search, which draws at
// random.
func Find(p Photo, ref calibrate.Reference, seed uint64) look.Found {
	full, ok := p.raster()
	if !ok {
		return look.Found{Refused: refuseFew("the picture is too small to hold a grid")}
	}
	found, settled := p.firstLook(full, ref, seed)
	if settled || p.Layers == nil {
		return found
	}
	layers, done := p.Layers()
	defer done()
	if woven, ok := p.longWay(full, layers, ref); ok {
		return woven
	}
	return found
}

// firstLook looks in the reduced picture. Lines lighter or of another colour
// than the ground are tried first, then darker ones: a light grid's shadow is
// a dark grid. settled: what it says is the answer, be it a refusal.
func (p *Photo) firstLook(full raster, ref calibrate.Reference, seed uint64) (found look.Found, settled bool) {
	camera, factor := p.Camera, p.Factor
	f := intrinsicsOf(camera)
	_, _, focalKnown := camera.FocalPx()
	rng := rand.New(rand.NewPCG(seed, 0x6772696473))
	refused, furthest := refuseFew("no grid of strings found"), 0
	var nearest *lattice // that the reason speaks of
	var passed []*reading
	readings := 0
	for _, group := range looks(p.Lines) {
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
				why = r.ends(full, camera)
			}
			if why == nil {
				if floor := r.floor(); floor != nil {
					return look.Found{Refused: floor, Considered: p.considered(l)}, true
				}
			}
			if why == nil {
				why, step = r.fits(ref, camera), 3
			}
			if why != nil {
				if step > furthest {
					refused, furthest, nearest = why, step, l
				}
				continue
			}
			if why = r.rival(all, full, f, camera, factor, focalKnown, rng); why != nil {
				return look.Found{Refused: why, Considered: p.considered(nearest)}, true
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
		return look.Found{Refused: why, Considered: p.considered(nearest)}, true
	case r == nil:
		return look.Found{Refused: refused, Considered: p.considered(nearest)}, false
	}
	return r.found(ref), true
}

// found is the answer that a reading makes.
func (r *reading) found(ref calibrate.Reference) look.Found {
	return look.Found{Marks: inCm(r.marks(), ref.PitchCm), Counted: counted(r.box, r.open)}
}

// counted tells a box's squares and lines, and that there may be more of them
// where one of its sides is open.
func counted(b box, open int) string {
	more := ""
	if open > 0 {
		more = " or more"
	}
	return fmt.Sprintf("%d x %d squares%s (%d and %d strings counted)", b.lines(0)-1, b.lines(1)-1, more, b.lines(0), b.lines(1))
}
