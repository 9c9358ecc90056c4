//go:build cgo

package vision

import (
	"math"

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

// considerSegments tells of the thin lines of a reduced picture.
func (p *Picture) considerSegments(segs []segment, factor float64) {
	if !p.Telling {
		return
	}
	for _, s := range segs {
		var ends []calibrate.Point
		for _, t := range []float64{-s.half, s.half} {
			full := fullPx(place{s.x + t*s.dx, s.y + t*s.dy}, factor)
			ends = append(ends, calibrate.Point{XPx: full.x, YPx: full.y})
		}
		p.seen.rest = append(p.seen.rest, ends)
	}
}

// considerLattice tells of the lines of a lattice of strings.
func (p *Picture) considerLattice(l *lattice) {
	if !p.Telling {
		return
	}
	b, ok := l.box()
	if !ok {
		return
	}
	p.seen.candidate = nil
	const steps = 24
	for family := range 2 {
		for line := b.lo[family]; line <= b.hi[family]; line++ {
			var through []calibrate.Point
			for i := range steps + 1 {
				along := float64(b.lo[1-family]) + float64(b.hi[1-family]-b.lo[1-family])*float64(i)/steps
				u, v := float64(line), along
				if family == 1 {
					u, v = v, u
				}
				if at, ok := l.level.Photo(u, v); ok && math.Abs(at.XPx) < 1e5 && math.Abs(at.YPx) < 1e5 {
					through = append(through, at)
				}
			}
			p.seen.candidate = append(p.seen.candidate, through)
		}
	}
}
