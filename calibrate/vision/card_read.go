package vision

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
)

// What a lattice must show to be read as a card.
const (
	joinRounds     = 2    // of adding patches to a lattice that cannot be read
	minCardBlocks  = 6    // dark squares found as patches
	cardRounds     = 3    // fits to all dark squares once the card is known
	cardEdgeOff    = 0.2  // squares: farther off its place a side is something else
	emptyShare     = 0.75 // of the light about it: the middle of an empty square is at least so light
	dottedShare    = 0.6  // the middle of a dotted square is at most so light
	evenShare      = 0.7  // of the lightest about the middle: what is darker there is shadow or mud,
	leastEven      = 6    // which may lie at the rest of eight places about an empty square's
	darkNeighbours = 2    // of four: how many must be clearly dark for a light square to be read
)

// A cardSeen is one of our cards or tiles in a picture, or something so like
// one that it was read and not believed.
type cardSeen struct {
	number   int
	marks    []calibrate.Mark
	plane    mapping            // of its squares
	corners  [4]calibrate.Point // of its field, clockwise from where column and row begin
	middle   calibrate.Point    // of its field
	read     int                // light squares that agree
	why      string             // why it is not believed; empty: it is
	mirrored bool               // it was read, but as in a mirror
}

// card reads a lattice as one of our cards, or as another family's pattern, in
// the full picture; where it cannot be read, with the other patches of its
// reduction that belong to it. ok is false where the lattice is nothing like one.
func (r greyRaster) card(f card.Family, l blockLattice, quads []quad, camera calibrate.Camera, factor float64) (seen cardSeen, ok bool) {
	columns, rows := l.size()
	if min(columns, rows) < 3 || len(l.order) < minCardBlocks {
		return seen, false
	}
	plane, id, err := r.decoded(f, l, camera, factor)
	for range joinRounds {
		if err == nil || plane == nil {
			break
		}
		if l, ok = l.joined(quads, plane, factor); !ok {
			break
		}
		plane, id, err = r.decoded(f, l, camera, factor)
	}
	var doubt *card.Doubt
	switch {
	case plane == nil:
		return seen, false
	case errors.As(err, &doubt):
		if doubt.Mirrored {
			return cardSeen{why: "a card is there, but mirrored: the photo was turned left to right", mirrored: true}, true
		}
		return seen, false
	}
	seen = cardSeen{number: id.Number, read: id.Agree}
	if plane, ok = placed(plane, id.Placement); !ok {
		return seen, false
	}
	var edges []edgeSeen
	for range cardRounds {
		m, ok := mappingOf(plane)
		if !ok {
			return seen, false
		}
		edges = r.cardEdges(f, m)
		next, ok := refined(plane, camera, edges)
		if !ok {
			return cardSeen{why: fmt.Sprintf("card number %d is there, but too few sides of its squares are found", id.Number)}, true
		}
		plane = next
	}
	seen.marks = edgeMarks(edges, f.SquareMm/10)
	m, ok := mappingOf(plane)
	seen.plane = m
	wide, tall := float64(f.Columns), float64(f.Rows)
	for i, c := range [4][2]float64{{0, 0}, {wide, 0}, {wide, tall}, {0, tall}} {
		at, _ := m(c[0], c[1])
		seen.corners[i] = calibrate.Point{XPx: at.x, YPx: at.y}
	}
	at, _ := m(wide/2, tall/2)
	seen.middle = calibrate.Point{XPx: at.x, YPx: at.y}
	return seen, ok
}

// decoded fits a lattice's plane to the sides of its squares and decodes the
// dots; no plane: the lattice has none.
func (r greyRaster) decoded(f card.Family, l blockLattice, camera calibrate.Camera, factor float64) (*calibrate.Plane, card.Identity, error) {
	plane, ok := l.coarse(camera, factor)
	if !ok {
		return nil, card.Identity{}, nil
	}
	for range 2 {
		m, ok := mappingOf(plane)
		if !ok {
			return nil, card.Identity{}, nil
		}
		next, ok := refined(plane, camera, r.edges(m, l.order, max(0.3, min(edgeReach, leastReachPx/l.blockPx(factor)))))
		if !ok {
			break // the patches' own corners have to do
		}
		plane = next
	}
	m, ok := mappingOf(plane)
	if !ok {
		return nil, card.Identity{}, nil
	}
	id, err := f.Decode(r.reading(m, l))
	return plane, id, err
}

// placed takes a plane in the lattice's squares to the card's own.
func placed(p *calibrate.Plane, at card.Placement) (*calibrate.Plane, bool) {
	x0, y0 := at.Lattice(0, 0)
	x1, y1 := at.Lattice(1, 0)
	x2, y2 := at.Lattice(0, 1)
	turn := [3][2]float64{{x1 - x0, y1 - y0}, {x2 - x0, y2 - y0}, {x0, y0}}
	var h [9]float64
	for row := range 3 {
		a := p.Homography[3*row : 3*row+3]
		for k, v := range turn {
			h[3*row+k] = a[0]*v[0] + a[1]*v[1]
		}
		h[3*row+2] += a[2]
	}
	if !(math.Abs(h[8]) > 1e-9) {
		return nil, false
	}
	q := *p
	for i := range h {
		q.Homography[i] = h[i] / h[8]
	}
	return &q, true
}

// cardEdges looks for the sides of all of a card's dark squares, and keeps those near their place.
func (r greyRaster) cardEdges(f card.Family, m mapping) []edgeSeen {
	var cells []cell
	for _, c := range f.DarkCells() {
		cells = append(cells, cell{c.T, c.R})
	}
	return slices.DeleteFunc(r.edges(m, cells, 0.3), func(e edgeSeen) bool { return !(math.Abs(e.off) < cardEdgeOff) })
}

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
				if beyond && r.bare(m, c, d, light) {
					out.Bare = append(out.Bare, o)
				}
			}
		}
	}
	return out
}

// besides are the ways from a square to those that share a side with it.
var besides = [4]cell{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}

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
	least, most, even := slices.Min(about[:]), slices.Max(about[:]), 0
	for _, g := range about {
		if g >= evenShare*most {
			even++
		}
	}
	switch {
	case centre < dottedShare*least && least-centre >= minStep:
		return true, light, true
	case centre >= emptyShare*most && even >= leastEven:
		return false, light, true
	}
	return false, 0, false
}
