//go:build cgo

package vision

import (
	"fieldjacket/calibrate"
)

// maxConsidered is how many lines and outlines are told at most.
const maxConsidered = 800

// considered is what one finder has looked at so far, for an overlay of a
// photo that it refuses: the candidate that its reason speaks of, or where
// there is none the patches or segments that made no candidate.
type considered struct {
	candidate, rest [][]calibrate.Point
}

func (c *considered) told() [][]calibrate.Point {
	if c.candidate != nil {
		return c.candidate
	}
	return c.rest[:min(len(c.rest), maxConsidered)]
}

// outlines are those of a lattice's blocks in the full picture.
func (l blockLattice) outlines(factor float64) (out [][]calibrate.Point) {
	for _, c := range l.order {
		var outline []calibrate.Point
		for i := range 5 {
			at := l.blocks[c].corner[i%4]
			full := fullPx(at, factor)
			outline = append(outline, calibrate.Point{XPx: full.x, YPx: full.y})
		}
		out = append(out, outline)
	}
	return out
}

// considerBlocks tells of a lattice of blocks that came to nothing; reason:
// the refusal speaks of it.
func (p *Picture) considerBlocks(l blockLattice, factor float64, reason bool) {
	switch {
	case !p.Telling:
	case reason:
		p.seen.candidate = l.outlines(factor)
	case len(p.seen.rest) < maxConsidered:
		p.seen.rest = append(p.seen.rest, l.outlines(factor)...)
	}
}
