package stringgrid

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"fieldjacket/calibrate"
)

// maxLattices is how many lattices of one look are measured at full size,
// minLattice how strong one must be beside the best.
const (
	maxLattices = 4
	minLattice  = 0.5
)

// lattices looks for the square lattices that most segments lie on, the
// strongest first, each one once.
func lattices(all []ray, f intrinsics, camera calibrate.Camera, focalKnown bool, rng *rand.Rand) []*lattice {
	if len(all) < 12 {
		return nil
	}
	var found []*lattice
	for _, t := range turns(all, focalKnown, rng) {
		again := true
		for _, c := range t.hypotheses(all) {
			start, ok := c.start(&t)
			if !ok {
				continue
			}
			l, ok := coarse(all, f, camera, start, found)
			if !ok || l.score == 0 {
				continue
			}
			if _, ok := l.box(); !ok {
				continue
			}
			known := slices.IndexFunc(found, l.same)
			switch {
			case known < 0:
				found, again = append(found, l), false
			case l.score > found[known].score:
				found[known] = l
			}
		}
		if again && len(found) > 0 {
			break // the second way the plane may lie has told nothing new
		}
	}
	slices.SortStableFunc(found, func(a, b *lattice) int { return cmp.Compare(b.score, a.score) })
	found = slices.DeleteFunc(found, func(l *lattice) bool { return l.score < minLattice*found[0].score })
	return found[:min(len(found), maxLattices)]
}

// same tells whether two lattices have the same lines: a crossing near the
// middle of the picture and those a few cells off are crossings of both.
func (l *lattice) same(m *lattice) bool {
	w, h := l.plane.Camera.WidthPx, l.plane.Camera.HeightPx
	u, v, err := l.level.Cm(calibrate.Point{XPx: float64(w) / 2, YPx: float64(h) / 2})
	if err != nil {
		return false
	}
	u, v = math.Round(u), math.Round(v)
	for _, o := range [][2]float64{{0, 0}, {3, 0}, {-3, 0}, {0, 3}, {0, -3}, {1, 1}} {
		p, ok := l.level.Photo(u+o[0], v+o[1])
		if !ok {
			return false
		}
		mu, mv, err := m.level.Cm(p)
		if err != nil || math.Abs(mu-math.Round(mu)) > 0.07 || math.Abs(mv-math.Round(mv)) > 0.07 {
			return false
		}
	}
	ratio := l.cellPx() / m.cellPx()
	return math.Abs(math.Log(ratio)) < 0.05
}

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

// halved is a lattice of half the side, whose even lines are the lines of l.
func (l *lattice) halved() *lattice {
	h := l.plane.Homography
	for row := range 3 {
		h[3*row] /= 2
		h[3*row+1] /= 2
	}
	out := &lattice{plane: &calibrate.Plane{Camera: l.plane.Camera, Homography: h, K1: l.plane.K1}, score: l.score}
	out.level, _ = out.plane.At(0)
	return out
}
