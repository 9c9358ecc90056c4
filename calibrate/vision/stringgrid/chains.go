package stringgrid

import (
	"cmp"
	"math"
	"slices"
)

// A chain is pieces of one layer that follow on each other along a line, as
// those of a string do with gaps where it is hidden. Ground makes many pieces
// but few long chains. Its places are in full px.
type chain struct {
	pieces     []chainPiece // in order along the chain
	x, y       float64      // middle of the straight line through it
	dx, dy     float64      // its direction, a unit vector
	lo, hi     float64      // where it ends, along that from the middle
	cover      float64      // share of its length that pieces cover
	halvings   int          // of the layer it was seen in
	z          float64      // mean strength of its pieces, in grey levels
	straightPx float64      // rms of the pieces about the line
}

// A chainPiece is a segment in full px.
type chainPiece struct {
	x, y, dx, dy, half, z float64
}

func (p chainPiece) end(side float64) (x, y float64) {
	return p.x + side*p.half*p.dx, p.y + side*p.half*p.dy
}

func (c *chain) span() float64 { return c.hi - c.lo }

// What the next piece of a chain must be like.
const (
	chainTurn   = 0.156 // sine of how far its direction may be off the chain's: 9 degrees
	chainGap    = 8     // px of the layer that may be missing,
	chainGapOf  = 0.6   // and this share of what the chain already has,
	chainGapCap = 140   // but no more px
	chainAside  = 1.5   // px of the layer that it may lie aside,
	chainSlant  = 0.04  // and this share of the gap
	chainShort  = 0.25  // of the gap that it must be long
	leastCover  = 0.35
	leastSpan   = 50 // px of the layer
	mostChains  = 90 // of a layer
)

// chains joins a layer's pieces, longest first.
func (l *Layer) chains(segs []Segment, halvings int) []chain {
	order := make([]int, len(segs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(segs[b].half, segs[a].half) })
	near := newPieceMap(l, segs)
	var out []chain
	for _, i := range order {
		if near.used[i] || 2*segs[i].half < 1.4*leastPiece {
			continue
		}
		near.used[i] = true
		members := []int{i}
		members = append(members, near.follow(i, 1)...)
		back := near.follow(i, -1)
		slices.Reverse(back)
		members = append(back, members...)
		for _, straight := range unbent(segs, members) {
			if c, ok := l.chain(segs, straight, halvings); ok {
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b chain) int { return cmp.Compare(b.strength(), a.strength()) })
	return out[:min(len(out), mostChains)]
}

// How far a piece may lie off the straight line between a chain's ends.
const (
	chainBend   = 3    // px of the layer,
	chainBendOf = 0.01 // and this share of its length
)

// unbent parts a chain where it bends: two strings that meet end to end, of
// two frames side by side, must not count as one. A string that sags comes in
// parts, which does no harm.
func unbent(segs []Segment, members []int) [][]int {
	if len(members) < 3 {
		return [][]int{members}
	}
	a, b := segs[members[0]], segs[members[len(members)-1]]
	dx, dy := b.x-a.x, b.y-a.y
	long := math.Hypot(dx, dy)
	at, worst := 0, 0.0
	for i, k := range members {
		if off := math.Abs((segs[k].x-a.x)*dy-(segs[k].y-a.y)*dx) / long; off > worst {
			at, worst = i, off
		}
	}
	if worst <= chainBend+chainBendOf*long {
		return [][]int{members}
	}
	return append(unbent(segs, members[:at]), unbent(segs, members[at:])...)
}

// strength is what chains are ranked by.
func (c *chain) strength() float64 { return c.cover * c.cover * c.span() }

// chain makes one of members in their order; false where it is too short or
// has too many gaps.
func (l *Layer) chain(segs []Segment, members []int, halvings int) (chain, bool) {
	c := chain{halvings: halvings}
	length := 0.0
	var sw, sx, sy float64
	for _, i := range members {
		s := segs[i]
		x, y := fullPx(s.x, s.y, l.Factor)
		p := chainPiece{x, y, s.dx, s.dy, s.half * l.Factor, s.z}
		c.pieces = append(c.pieces, p)
		length += 2 * p.half
		sw, sx, sy, c.z = sw+p.half, sx+p.half*x, sy+p.half*y, c.z+p.half*p.z
	}
	c.x, c.y, c.z = sx/sw, sy/sw, c.z/sw
	var xx, xy, yy float64
	for _, p := range c.pieces {
		for _, side := range []float64{-1, 1} {
			x, y := p.end(side)
			x, y = x-c.x, y-c.y
			xx, xy, yy = xx+p.half*x*x, xy+p.half*x*y, yy+p.half*y*y
		}
	}
	c.dy, c.dx = math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	c.straightPx = math.Sqrt(max(0, (xx+yy-math.Hypot(xx-yy, 2*xy))/2/(2*sw)))
	c.lo, c.hi = math.Inf(1), math.Inf(-1)
	for _, p := range c.pieces {
		for _, side := range []float64{-1, 1} {
			x, y := p.end(side)
			at := (x-c.x)*c.dx + (y-c.y)*c.dy
			c.lo, c.hi = min(c.lo, at), max(c.hi, at)
		}
	}
	c.cover = min(1, length/c.span())
	return c, c.cover >= leastCover && c.span() >= leastSpan*l.Factor
}

// A pieceMap finds pieces by where they begin.
type pieceMap struct {
	segs   []Segment
	used   []bool
	across int
	cells  map[int][]int32
}

const pieceCellPx = 32

func newPieceMap(l *Layer, segs []Segment) *pieceMap {
	m := &pieceMap{segs: segs, used: make([]bool, len(segs)), across: l.Width/pieceCellPx + 3, cells: map[int][]int32{}}
	for i, s := range segs {
		a, b := m.cell(s.x-s.half*s.dx, s.y-s.half*s.dy), m.cell(s.x+s.half*s.dx, s.y+s.half*s.dy)
		m.cells[a] = append(m.cells[a], int32(i))
		if b != a {
			m.cells[b] = append(m.cells[b], int32(i))
		}
	}
	return m
}

func (m *pieceMap) cell(x, y float64) int {
	return (int(y)/pieceCellPx+1)*m.across + int(x)/pieceCellPx + 1
}

// follow takes the pieces that go on from piece i, on its side (1: where its
// direction leads).
func (m *pieceMap) follow(i int, side float64) (members []int) {
	s := m.segs[i]
	dx, dy := side*s.dx, side*s.dy
	x, y := s.x+s.half*dx, s.y+s.half*dy
	have := 2 * s.half
	trail := []place{{s.x - s.half*dx, s.y - s.half*dy}, {x, y}}
	for {
		next, ex, ey := m.next(x, y, dx, dy, have)
		if next < 0 {
			return members
		}
		m.used[next] = true
		members = append(members, next)
		have += 2 * m.segs[next].half
		x, y = ex, ey
		trail = append(trail, place{x, y})
		dx, dy = heading(trail, dx, dy)
	}
}

// A place is a point in px.
type place struct{ x, y float64 }

// headingPx is how far back a chain's direction is taken from.
const headingPx = 150

// heading is the direction in which a trail ends.
func heading(trail []place, dx, dy float64) (float64, float64) {
	last := trail[len(trail)-1]
	for i := len(trail) - 2; i >= 0; i-- {
		x, y := last.x-trail[i].x, last.y-trail[i].y
		if d := math.Hypot(x, y); d > headingPx || i == 0 && d > leastPiece {
			return x / d, y / d
		}
	}
	return dx, dy
}

// next is the piece that goes on nearest from (x, y), and its far end; -1: none.
func (m *pieceMap) next(x, y, dx, dy, have float64) (best int, ex, ey float64) {
	best = -1
	reach := min(chainGap+chainGapOf*have, chainGapCap)
	least := math.Inf(1)
	for cy := int(min(y, y+reach*dy)-4) / pieceCellPx; cy <= int(max(y, y+reach*dy)+4)/pieceCellPx; cy++ {
		for cx := int(min(x, x+reach*dx)-4) / pieceCellPx; cx <= int(max(x, x+reach*dx)+4)/pieceCellPx; cx++ {
			for _, k := range m.cells[(cy+1)*m.across+cx+1] {
				if m.used[k] {
					continue
				}
				s := m.segs[k]
				if math.Abs(s.dx*dy-s.dy*dx) > chainTurn {
					continue
				}
				side := 1.0
				if s.dx*dx+s.dy*dy < 0 {
					side = -1
				}
				bx, by := s.x-side*s.half*s.dx-x, s.y-side*s.half*s.dy-y
				ahead, aside := bx*dx+by*dy, math.Abs(by*dx-bx*dy)
				if ahead < -4 || ahead > reach || aside > chainAside+chainSlant*max(0, ahead) || 2*s.half < chainShort*ahead {
					continue
				}
				if cost := ahead + 4*aside; cost < least {
					least, best = cost, int(k)
					ex, ey = s.x+side*s.half*s.dx, s.y+side*s.half*s.dy
				}
			}
		}
	}
	return best, ex, ey
}
