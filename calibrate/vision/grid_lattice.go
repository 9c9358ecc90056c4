package vision

import (
	"math"
	"math/rand/v2"

	"fieldjacket/calibrate"
)

// findLattice looks for the square lattice that most segments lie on. A
// lattice of another size that is nearly as strong is a rival, and no choice
// is made.
func findLattice(all []ray, f frame, camera calibrate.Camera, focalKnown bool, rng *rand.Rand) (*lattice, *calibrate.Refusal) {
	if len(all) < 12 {
		return nil, refuseFew("no strings found")
	}
	var found []*lattice
	for _, t := range turns(all, focalKnown, rng) {
		for _, c := range t.combs(all) {
			start, ok := c.start(&t)
			if !ok {
				continue
			}
			l, ok := coarse(all, f, camera, start)
			if !ok || l.score == 0 {
				continue
			}
			if _, ok := l.box(); ok {
				found = append(found, l)
			}
		}
	}
	var best *lattice
	for _, l := range found {
		if best == nil || l.score > best.score {
			best = l
		}
	}
	if best == nil {
		return nil, refuseFew("no grid of strings found")
	}
	for _, l := range found {
		if ratio := l.cellPx() / best.cellPx(); math.Abs(math.Log(ratio)) > 0.03 && l.score > rivalShare*best.score {
			return best, calibrate.Refuse(retakeGrid, "grid: two grids fit the lines found, one with cells %.2f times the other's", ratio)
		}
	}
	return best, nil
}

// rivalShare is how strong another lattice may be beside the best.
const rivalShare = 0.75

// cellPx is the side of a cell in the middle of the picture, in px.
func (l *lattice) cellPx() float64 {
	w, h := l.plane.Camera.WidthPx, l.plane.Camera.HeightPx
	u, v, err := l.level.Cm(calibrate.Point{XPx: float64(w) / 2, YPx: float64(h) / 2})
	if err != nil {
		return math.NaN()
	}
	q, err := l.level.ScalePxPerCm(u, v)
	if err != nil {
		return math.NaN()
	}
	return q.Value
}
