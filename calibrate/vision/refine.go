//go:build cgo

package vision

import (
	"errors"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// Refine measures the marks of a reference whose four outer corners, or of a
// bar the two ends, a person has put on the photo, each coordinate to pickPx
// (one standard deviation), see [calibrate.FitCorners]. Refused says why nothing
// was found there that agrees with them: what was put may stand all the same.
func Refine(p *Picture, ref calibrate.Reference, put []calibrate.Point, pickPx float64) look.Found {
	if want := ref.Puts(); len(put) != want {
		return look.Found{Refused: calibrate.Refuse("", "%s: %d places put, want %d", ref, len(put), want)}
	}
	how, ok := finders[ref.Kind]
	switch {
	case !ok:
		return look.Found{Refused: notLookedFor(ref)}
	case how.between != nil:
		return how.between(p, ref, [2]calibrate.Point(put), pickPx)
	}
	corners := [4]calibrate.Point(put)
	found := how.refine(p, ref, corners, pickPx)
	if found.Refused == nil || found.Miscounted {
		return found
	}
	for _, other := range how.otherCounts(ref) {
		if better := how.refine(p, other, corners, pickPx); better.Refused == nil {
			return look.Found{Miscounted: true, Refused: calibrate.Refuse("count again between the corners",
				"%s: %s fits between these corners", ref, other)}
		}
	}
	return found
}

func (how finder) refine(p *Picture, ref calibrate.Reference, corners [4]calibrate.Point, pickPx float64) look.Found {
	rough, err := calibrate.FitCorners(ref, p.Camera(), corners, pickPx)
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	found := how.measured(p, ref, rough, corners, pickPx)
	if found.Refused == nil || how.pattern == nil {
		return found
	}
	n := how.pattern(ref)
	full, ok := p.raster()
	if !ok {
		return found
	}
	cellPx := math.Sqrt(polygonArea(placesOf(corners)) / float64(n.across*n.down))
	nearer := n.settle(full, corners, min(2*pickPx, patternMost*cellPx))
	if rough, err = calibrate.FitCorners(ref, p.Camera(), nearer, pickPx); err != nil {
		return found
	}
	if again := how.measured(p, ref, rough, corners, pickPx); again.Refused == nil {
		return again
	}
	return found
}

// measured measures the marks near a rough plane, and refuses those that do not
// agree with the corners.
func (how finder) measured(p *Picture, ref calibrate.Reference, rough *calibrate.Plane, corners [4]calibrate.Point, pickPx float64) (found look.Found) {
	found = how.near(p, ref, rough)
	if found.Refused != nil {
		return found
	}
	fitted, err := calibrate.FitReference(ref.Uncounted(), p.Camera(), found.Marks)
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	if why := how.stray(ref, fitted, corners, pickPx); why != nil {
		return look.Found{Refused: why}
	}
	return found
}

// otherCounts are the numbers that a person who counts wrong may have meant:
// one more or fewer, the double and the half, the lines for what lies between
// them.
func (how finder) otherCounts(ref calibrate.Reference) (out []calibrate.Reference) {
	if how.counts == nil {
		return nil
	}
	across, down, more := how.counts(&ref)
	a, d := *across-more, *down-more
	for _, n := range [][2]int{{a + 1, d + 1}, {a - 1, d - 1}, {a + 1, d}, {a - 1, d}, {a, d + 1}, {a, d - 1}, {2 * a, 2 * d}, {a / 2, d / 2}, {a + 2, d + 2}, {a - 2, d - 2}, {d, a}} {
		if n[0] >= 2 && n[1] >= 2 && n != [2]int{a, d} {
			*across, *down = n[0]+more, n[1]+more
			out = append(out, ref)
		}
	}
	return out
}

func asRefusal(err error) *calibrate.Refusal {
	var refusal *calibrate.Refusal
	if errors.As(err, &refusal) {
		return refusal
	}
	return calibrate.Refuse("", "%v", err)
}

// stray refuses a plane on which the corners do not lie where they were put.
func (how finder) stray(ref calibrate.Reference, fitted *calibrate.Plane, corners [4]calibrate.Point, pickPx float64) *calibrate.Refusal {
	level, err := fitted.At(0)
	if err != nil {
		return asRefusal(err)
	}
	at, err := ref.CornersCm()
	if err != nil {
		return asRefusal(err)
	}
	cell := how.cellCm(ref)
	for i, c := range at {
		here, ok := level.Photo(c[0], c[1])
		next, okNext := level.Photo(c[0]+cell, c[1])
		if !ok || !okNext {
			return calibrate.Refuse("", "%s: what is found there lies behind the camera", ref.Kind)
		}
		off := math.Hypot(here.XPx-corners[i].XPx, here.YPx-corners[i].YPx)
		cellPx := math.Hypot(next.XPx-here.XPx, next.YPx-here.YPx)
		if limit := min(max(how.strays*cellPx, 4*pickPx), how.straysMax*cellPx); !(off <= limit) {
			return calibrate.Refuse("put the corners nearer, or accept them as they are",
				"%s: what is found there lies %.0f px off corner %d, limit %.0f", ref.Kind, off, i+1, limit)
		}
	}
	return nil
}

// inUnits is a plane whose coordinates count units of so many cm.
func inUnits(p *calibrate.Plane, unitCm float64) *calibrate.Plane {
	q := *p
	for row := range 3 {
		q.Homography[3*row] *= unitCm
		q.Homography[3*row+1] *= unitCm
	}
	return &q
}
