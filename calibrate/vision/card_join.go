package vision

import (
	"maps"
	"math"
	"slices"

	"fieldjacket/calibrate"
)

const (
	joinOff  = 0.25 // squares: how far a patch's corners may lie off where the plane has those of a dark square
	joinSpan = 16   // squares that a lattice may grow to, each way
)

// joined is the lattice with all dark patches of its reduction that lie where
// its plane has its other dark squares: the edge of a shadow, or a string
// across a card, parts its squares into several lattices. ok is false where
// there are none.
func (l blockLattice) joined(quads []quad, plane *calibrate.Plane, factor float64) (all blockLattice, ok bool) {
	level, err := plane.At(0)
	if err != nil {
		return l, false
	}
	lo, hi := l.span()
	all = blockLattice{blocks: maps.Clone(l.blocks), order: slices.Clone(l.order)}
	for _, q := range quads {
		var at [4]place
		var middle place
		for i, c := range q.corner {
			px := fullPx(c, factor)
			u, v, err := level.Cm(calibrate.Point{XPx: px.x, YPx: px.y})
			if err != nil {
				u, v = math.NaN(), math.NaN()
			}
			at[i] = place{u, v}
			middle = middle.plus(at[i].times(0.25))
		}
		c := cell{int(math.Floor(middle.x)), int(math.Floor(middle.y))}
		if (c.t+c.r)&1 != 0 || c.t < hi.t-joinSpan || c.t > lo.t+joinSpan || c.r < hi.r-joinSpan || c.r > lo.r+joinSpan {
			continue
		}
		if _, there := all.blocks[c]; there {
			continue
		}
		if turned, ok := q.onto(c, at); ok {
			all.blocks[c] = turned
			all.order = append(all.order, c)
		}
	}
	return all, len(all.order) > len(l.order)
}

// onto turns a patch so that its first corner is that of the cell, if all its
// corners, at in cells, lie near the cell's.
func (q quad) onto(c cell, at [4]place) (quad, bool) {
	for first := range 4 {
		near := true
		for k, o := range cellCorners {
			p := at[(first+k)%4]
			near = near && math.Hypot(p.x-float64(c.t+o.t), p.y-float64(c.r+o.r)) <= joinOff
		}
		if near {
			var turned [4]place
			for k := range turned {
				turned[k] = q.corner[(first+k)%4]
			}
			q.corner = turned
			return q, true
		}
	}
	return q, false
}
