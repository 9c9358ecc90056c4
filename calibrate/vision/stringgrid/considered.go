package stringgrid

import (
	"math"

	"fieldjacket/calibrate"
)

// considered is what was looked at, for an overlay of a photo that is refused:
// the lines of the lattice that the reason speaks of, or all thin lines; nil
// where nobody asks.
func (p *Photo) considered(l *lattice) (lines [][]calibrate.Point) {
	if !p.Telling {
		return nil
	}
	if l != nil {
		if b, ok := l.box(); ok {
			return l.drawn(b)
		}
	}
	for _, s := range p.Lines {
		var ends []calibrate.Point
		for _, t := range []float64{-s.half, s.half} {
			x, y := fullPx(s.x+t*s.dx, s.y+t*s.dy, p.Factor)
			ends = append(ends, calibrate.Point{XPx: x, YPx: y})
		}
		lines = append(lines, ends)
	}
	return lines
}

// drawn is the lines of a lattice within a box.
func (l *lattice) drawn(b box) (lines [][]calibrate.Point) {
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
			lines = append(lines, through)
		}
	}
	return lines
}
