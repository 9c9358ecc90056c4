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
	joinRounds    = 2   // of adding patches to a lattice that cannot be read
	minCardBlocks = 6   // dark squares found as patches
	cardRounds    = 3   // fits to all dark squares once the card is known
	cardEdgeOff   = 0.2 // squares: farther off its place a side is something else
	leastSides    = 5   // of a square's eight half sides: with fewer in place it is hidden, or no square
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
	if fine, err := calibrate.FitSquares(camera, edgeMarks(edges, 1), 1); err == nil {
		plane = fine
	}
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

// cardEdges looks for the sides of all of a card's dark squares, and keeps those
// near their place of squares that show most of theirs: where the card is hidden,
// or the plane goes astray beyond what was seen of it, some lie near by chance.
func (r greyRaster) cardEdges(f card.Family, m mapping) (kept []edgeSeen) {
	for _, c := range f.DarkCells() {
		own := slices.DeleteFunc(r.edges(m, []cell{{c.T, c.R}}, 0.3), func(e edgeSeen) bool { return !(math.Abs(e.off) < cardEdgeOff) })
		if len(own) >= leastSides {
			kept = append(kept, own...)
		}
	}
	return kept
}
