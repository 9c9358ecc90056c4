//go:build cgo

package vision

import (
	"math"

	"fieldjacket/calibrate"
)

// codePlane fits a code's plane, in modules, to the cores' corners, to the
// middle of a pattern that was not seen as one, and to the small square near
// the fourth corner, where they are found.
func (r greyRaster) codePlane(three threesome, u, v place, modules float64, camera calibrate.Camera) (*calibrate.Plane, bool) {
	at := [3][2]float64{{0, 0}, {modules - 7, 0}, {0, modules - 7}}
	var marks []calibrate.Mark
	lost := -1
	for i, p := range three {
		if p == nil {
			lost = i
			continue
		}
		// The core's first corner is the one that lies farthest against both directions.
		first, least := 0, math.Inf(1)
		for k, c := range p.core.corner {
			d := c.minus(p.core.centre)
			if far := d.dot(u)/u.size() + d.dot(v)/v.size(); far < least {
				least, first = far, k
			}
		}
		for k, o := range [4][2]float64{{2, 2}, {5, 2}, {5, 5}, {2, 5}} {
			c := p.core.corner[(first+k)%4]
			marks = append(marks, calibrate.Mark{At: calibrate.Point{XPx: c.x, YPx: c.y}, UCm: at[i][0] + o[0], VCm: at[i][1] + o[1]})
		}
	}
	fit := func() (*calibrate.Plane, bool) {
		p, _, err := calibrate.Fit(calibrate.Reference{}, camera, marks, calibrate.FitOptions{FloorPx: 0.3, Rounds: 2})
		return p, err == nil
	}
	plane, ok := fit()
	if !ok {
		return nil, false
	}
	if lost >= 0 {
		found, ok := r.near(plane, at[lost][0]+3.5, at[lost][1]+3.5, 3, largeSquare)
		if !ok {
			return nil, false
		}
		marks = append(marks, found)
		if plane, ok = fit(); !ok {
			return nil, false
		}
	}
	if found, ok := r.near(plane, modules-6.5, modules-6.5, 2, smallSquare); ok {
		marks = append(marks, found)
		if better, ok := fit(); ok {
			plane = better
		}
	}
	return plane, true
}

// A ringed is a square pattern round its middle: whether the ring of modules
// at each distance from it is dark.
type ringed []bool

var (
	largeSquare = ringed{true, true, false, true, false}
	smallSquare = ringed{true, false, true}
)

// near looks for a ringed square within reach modules of a place of the plane:
// where the rings differ most from each other.
func (r greyRaster) near(plane *calibrate.Plane, t, row, reach float64, rings ringed) (mark calibrate.Mark, ok bool) {
	m, ok := mappingOf(plane)
	if !ok {
		return mark, false
	}
	best, bestT, bestRow := 0.0, 0.0, 0.0
	look := func(midT, midRow, reach, step float64) {
		for dt := -reach; dt <= reach; dt += step {
			for dr := -reach; dr <= reach; dr += step {
				if score := r.ringScore(m, midT+dt, midRow+dr, rings); score > best {
					best, bestT, bestRow = score, midT+dt, midRow+dr
				}
			}
		}
	}
	look(t, row, reach, 0.5)
	if best < minRingScore {
		return mark, false
	}
	look(bestT, bestRow, 0.375, 0.125)
	p, ok := m(bestT, bestRow)
	return calibrate.Mark{At: calibrate.Point{XPx: p.x, YPx: p.y}, UCm: t, VCm: row}, ok
}

// minRingScore is the least share of the places about a ringed square that
// must be on the right side of their neighbours one ring farther in.
const minRingScore = 0.75

// ringScore is the share of places that differ from the one a ring farther in
// as the rings do: in the eight directions from the middle, so that an edge of
// shade spoils few; of places that fit equally well the one with most contrast.
func (r greyRaster) ringScore(m mapping, t, row float64, rings ringed) float64 {
	good, all, contrast := 0, 0, 0.0
	for _, d := range [8][2]float64{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}} {
		var before float64
		for ring, dark := range rings {
			at, ok := m(t+float64(ring)*d[0], row+float64(ring)*d[1])
			g, in := r.at(at)
			if !ok || !in {
				return 0
			}
			if ring > 0 && dark != rings[ring-1] {
				all++
				contrast += math.Abs(g-before) / 255
				if dark && g < patternStep*before || !dark && before < patternStep*g {
					good++
				}
			}
			before = g
		}
	}
	return (float64(good) + 0.1*contrast) / float64(all)
}
