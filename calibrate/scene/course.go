package scene

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene/noise"
)

// A course is how one string runs.
type course struct {
	at       float64    // its mark, in cells from the middle
	off      [2]float64 // of its ends from its mark, cm
	bow, sag float64    // of its middle, cm
	liftCm   float64    // over the plane
	halfCm   float64    // half its length
	gone     bool

	// at the strings that it crosses
	cells           int       // one less than there are
	firstCm, stepCm float64   // where the first is along it, and from one to the next
	kinks           []float64 // how far it lies aside at each, cm
	weaveCm         float64   // how far it lies over the plane at the first; under it at the next
}

// run gives the course what it does at the cells+1 strings that it crosses over lengthCm.
func (c *course) run(family, number, cells int, lengthCm float64, s String, radius float64, seed uint64) {
	c.cells = cells
	c.firstCm, c.stepCm = -lengthCm/2, lengthCm/float64(max(1, cells))
	if s.Weave {
		c.weaveCm = 0.9 * radius
		if (number+family)&1 != 0 {
			c.weaveCm = -c.weaveCm
		}
	}
	if s.KinkCm > 0 {
		for n := range cells + 1 {
			c.kinks = append(c.kinks, s.KinkCm*noise.Normal(noise.Hash(seed, n, 13)))
		}
	}
}

// shift is how far the string lies off its mark at along cm from its middle, and how far below the plane.
func (c *course) shift(along float64) (aside, below float64) {
	t := min(max(0.5+0.5*along/c.halfCm, 0), 1)
	hang := 4 * t * (1 - t)
	aside, below = c.off[0]*(1-t)+c.off[1]*t+c.bow*hang, c.sag*hang-c.liftCm
	cells := (along - c.firstCm) / c.stepCm
	if c.weaveCm != 0 { // beyond the outermost crossing it comes back to the plane
		beyond := max(0, -cells, cells-float64(c.cells))
		below -= c.weaveCm * math.Cos(math.Pi*cells) * max(0, 1-3*beyond)
	}
	return aside + c.kink(cells), below
}

// kink is how far the string is drawn aside between two crossings; at its ends it is held.
func (c *course) kink(cells float64) float64 {
	last := len(c.kinks) - 1
	if last < 0 {
		return 0
	}
	ends := (c.halfCm + c.firstCm) / c.stepCm // from the outermost crossings to its ends, in cells
	switch {
	case cells <= 0:
		return c.kinks[0] * max(0, 1+cells/max(ends, 1e-9))
	case cells >= float64(last):
		return c.kinks[last] * max(0, 1-(cells-float64(last))/max(ends, 1e-9))
	}
	n := int(cells)
	f := cells - float64(n)
	return c.kinks[n]*(1-f) + c.kinks[n+1]*f
}

// at is the place (u, v) of a string at along cm from its middle, and how far it hangs below the plane.
func (l *layout) at(family int, c *course, along float64) (u, v, below float64) {
	aside, below := c.shift(along)
	if family == 0 {
		u, v = c.at*l.g.PitchCm+aside+along*l.down.u, along*l.down.v
	} else {
		u, v = along+c.at*l.leanU, c.at*l.pitchDown+aside
	}
	return u, v, below - l.warp(u, v)
}

// warp is how far the grid lies over its plane at a place, since its frame is twisted.
func (l *layout) warp(u, v float64) float64 {
	if l.g.WarpCm == 0 {
		return 0
	}
	return l.g.WarpCm * 4 * u * v / (float64(l.g.Across) * l.g.PitchCm * float64(l.g.Down) * l.pitchDown)
}

// crossing is where two strings cross, on the plane, and how far below it the string of family 1 hangs.
func (l *layout) crossing(a, b *course) (u, v, below float64) {
	along := b.at * l.pitchDown / l.down.v
	for range 6 {
		u, _, _ = l.at(0, a, along)
		_, v, below = l.at(1, b, u-b.at*l.leanU)
		along = v / l.down.v
	}
	return u, v, below
}

// seenCrossing is where the two strings that cross at (u, v) are drawn to cross. One lies over the other, so that a look
// from the side moves it a little.
func (l *layout) seenCrossing(e *eye, a, b *course, u, v float64) (calibrate.Point, bool) {
	along := [2]float64{v / l.down.v, u - b.at*l.leanU}
	strings := [2]*course{a, b}
	var p [2]calibrate.Point
	for range 8 {
		var way [2]calibrate.Point // px per cm
		for f, c := range strings {
			const d = 0.02
			var q [2]calibrate.Point
			for k := range q {
				x, y, below := l.at(f, c, along[f]+d*float64(2*k-1))
				var ok bool
				if q[k], ok = e.photo(l.axes.world(x, y, -below)); !ok {
					return calibrate.Point{}, false
				}
			}
			p[f] = calibrate.Point{XPx: (q[0].XPx + q[1].XPx) / 2, YPx: (q[0].YPx + q[1].YPx) / 2}
			way[f] = calibrate.Point{XPx: (q[1].XPx - q[0].XPx) / (2 * d), YPx: (q[1].YPx - q[0].YPx) / (2 * d)}
		}
		dx, dy := p[1].XPx-p[0].XPx, p[1].YPx-p[0].YPx
		area := way[0].XPx*way[1].YPx - way[0].YPx*way[1].XPx
		if math.Abs(area) < 1e-12 {
			return calibrate.Point{}, false
		}
		along[0] += (dx*way[1].YPx - dy*way[1].XPx) / area
		along[1] += (dx*way[0].YPx - dy*way[0].XPx) / area
	}
	return calibrate.Point{XPx: (p[0].XPx + p[1].XPx) / 2, YPx: (p[0].YPx + p[1].YPx) / 2}, true
}

// plane is the grid's truth: its marks are the crossings of strings that are there, row by row, at their places on the
// plane and where they are drawn.
func (l *layout) plane(e *eye) Plane {
	g := l.g
	p := Plane{Reference: g.reference(), HalfUCm: float64(g.Across) * g.PitchCm / 2, HalfVCm: float64(g.Down) * l.pitchDown / 2,
		RackDeg: g.RackDeg, Cells: [2]int{g.Across, g.Down}, eye: e, axes: l.axes}
	for j := range l.families[1] {
		for i := range l.families[0] {
			a, b := &l.families[0][i], &l.families[1][j]
			if a.gone || b.gone {
				continue
			}
			u, v, _ := l.crossing(a, b)
			if at, ok := l.seenCrossing(e, a, b, u, v); ok {
				p.Marks = append(p.Marks, calibrate.Mark{At: at, UCm: u, VCm: v})
				p.Strings = append(p.Strings, [2]int{i, j})
			}
		}
	}
	return p
}
