package vision

import (
	"math"
	"slices"

	"fieldjacket/calibrate/card"
)

// What a light square must show to be read.
const (
	emptyShare     = 0.75 // of the light about it: the middle of an empty square is at least so light
	dottedShare    = 0.6  // the middle of a dotted square is at most so light
	evenShare      = 0.7  // darkest over lightest about the middle: below it a shadow, mud or a smeared dot lies there
	darkNeighbours = 2    // of four: how many must be clearly dark for a light square to be read
)

// reading reads the light squares among and beside a lattice's dark ones.
func (r greyRaster) reading(m mapping, l blockLattice) (out card.Reading) {
	lo, hi := l.span()
	if hi.t-lo.t > 40 || hi.r-lo.r > 40 {
		return out
	}
	for _, c := range l.order {
		out.Dark = append(out.Dark, card.Cell{T: c.t, R: c.r})
	}
	for row := lo.r - 1; row <= hi.r+1; row++ {
		for t := lo.t - 1; t <= hi.t+1; t++ {
			c := card.Cell{T: t, R: row}
			if c.Dark() {
				continue
			}
			dot, light, ok := r.dotted(m, c)
			if !ok {
				continue
			}
			out.Lights = append(out.Lights, card.Square{Cell: c, Dot: dot})
			for _, d := range besides {
				o := card.Cell{T: c.T + d.t, R: c.R + d.r}
				beyond := o.T < lo.t || o.T > hi.t || o.R < lo.r || o.R > hi.r
				if beyond && !slices.Contains(out.Bare, o) && r.bare(m, c, d, light) {
					out.Bare = append(out.Bare, o)
				}
			}
		}
	}
	return out
}

// bare tells whether it is clearly light beyond a light square's side, where
// a dark square would lie if the field went on.
func (r greyRaster) bare(m mapping, c card.Cell, d cell, light float64) bool {
	for _, out := range [2]float64{0.65, 0.8} {
		for _, along := range [3]float64{-0.2, 0, 0.2} {
			t, row := float64(d.t)*out+float64(d.r)*along, float64(d.r)*out+float64(d.t)*along
			p, ok := m(float64(c.T)+0.5+t, float64(c.R)+0.5+row)
			if g, in := r.at(p); !ok || !in || g < emptyShare*light {
				return false
			}
		}
	}
	return true
}

// dotted tells whether a light square has a dot, and how light it is beside it;
// false where that is not clear. The middle is held against the light about it
// within the square, so that shade changes nothing.
func (r greyRaster) dotted(m mapping, c card.Cell) (dot bool, light float64, clear bool) {
	grey := func(dt, dr float64) float64 {
		p, ok := m(float64(c.T)+0.5+dt, float64(c.R)+0.5+dr)
		g, in := r.at(p)
		if !ok || !in {
			return math.NaN()
		}
		return g
	}
	const out, in = 0.36, 0.09
	about := [8]float64{}
	for i, d := range [8][2]float64{{-out, -out}, {0, -out}, {out, -out}, {out, 0}, {out, out}, {0, out}, {-out, out}, {-out, 0}} {
		about[i] = grey(d[0], d[1])
	}
	inner := [5]float64{grey(0, 0), grey(in, 0), grey(-in, 0), grey(0, in), grey(0, -in)}
	for _, g := range append(about[:], inner[:]...) {
		if math.IsNaN(g) {
			return false, 0, false
		}
	}
	light, centre := middle(about[:]), middle(inner[:])
	dark := 0
	for _, d := range besides {
		if g := grey(float64(d.t), float64(d.r)); g < darkRatio*light && light-g >= minStep {
			dark++
		}
	}
	if dark < darkNeighbours {
		return false, 0, false
	}
	least, most := slices.Min(about[:]), slices.Max(about[:])
	switch {
	case centre < dottedShare*least && least-centre >= minStep:
		return true, light, true
	case centre >= emptyShare*most && least >= evenShare*most:
		return false, light, true
	}
	return false, 0, false
}
