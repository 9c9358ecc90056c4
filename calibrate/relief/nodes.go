package relief

import (
	"math"
)

// nodes is the ground seen in several photos, on a lattice over the strings'
// plane; points that no photo but the first shows are empty.
type nodes struct {
	l             *Laying
	lo, hi        [2]float64
	spacing       float64
	columns, rows int
	points        []point
}

// nodesOf brings the matches of all photos together.
func nodesOf(l *Laying, matches []Matches) *nodes {
	n := &nodes{l: l}
	n.lo, n.hi = l.photos[0].BoxCm(l.ref.PitchCm)
	for _, m := range matches {
		if m.SpacingCm > 0 {
			n.spacing = m.SpacingCm
		}
	}
	if n.spacing == 0 {
		return n
	}
	n.columns, n.rows = int((n.hi[0]-n.lo[0])/n.spacing), int((n.hi[1]-n.lo[1])/n.spacing)
	n.points = make([]point, n.columns*n.rows)
	for k, m := range matches {
		for _, p := range m.Nodes {
			c, r := int((p.UCm-n.lo[0])/n.spacing), int((p.VCm-n.lo[1])/n.spacing)
			if c < 0 || r < 0 || c >= n.columns || r >= n.rows {
				continue
			}
			at := &n.points[r*n.columns+c]
			at.at = p.At
			at.seen = append(at.seen, sight{k + 1, p.To, max(wideMatch*p.UPx, leastMatchPx)})
		}
	}
	return n
}

// leastMatchPx is the least standard uncertainty of a match, px of the photo.
const leastMatchPx = 0.05

// cell is the square that a place of the plane lies in; its column and row
// count from the outermost strings.
func (n *nodes) cell(u, v float64) (column, row int) {
	pitch := n.l.ref.PitchCm
	return int(math.Floor((u - n.l.s.x[atRack]*v - n.lo[0]) / pitch)), int(math.Floor((v - n.lo[1]) / pitch))
}

// cells is how many squares the grid has in the first photo.
func (n *nodes) cells() (columns, rows int) {
	pitch := n.l.ref.PitchCm
	return int(math.Round((n.hi[0] - n.lo[0]) / pitch)), int(math.Round((n.hi[1] - n.lo[1]) / pitch))
}

// place is where a node lies on the plane as the first photo sees it.
func (n *nodes) place(i int) (u, v float64) {
	return n.lo[0] + (float64(i%n.columns)+0.5)*n.spacing, n.lo[1] + (float64(i/n.columns)+0.5)*n.spacing
}

// shares counts a photo's nodes, the squares, and those of them of which
// enough nodes are seen in that photo.
func (n *nodes) shares(photo int) (all, squares, given int) {
	columns, rows := n.cells()
	own := make([]int, columns*rows)
	for i := range n.points {
		for _, m := range n.points[i].seen {
			if m.photo == photo {
				all++
				u, v := n.place(i)
				if c, r := n.cell(u, v); c >= 0 && r >= 0 && c < columns && r < rows {
					own[r*columns+c]++
				}
			}
		}
	}
	need := squareNodes * n.perSquare()
	for _, o := range own {
		if float64(o) >= need {
			given++
		}
	}
	return all, columns * rows, given
}

func (n *nodes) perSquare() float64 {
	side := n.l.ref.PitchCm / max(n.spacing, 1e-9)
	return side * side
}

// chosen is one point of each cell of jointCellCm: the one that most photos
// show, and of those the one that is matched best.
func (n *nodes) chosen() (out []point) {
	best := map[[2]int]int{}
	var order [][2]int
	better := func(a, b *point) bool {
		if len(a.seen) != len(b.seen) {
			return len(a.seen) > len(b.seen)
		}
		worst := func(p *point) (u float64) {
			for _, m := range p.seen {
				u = max(u, m.uPx)
			}
			return u
		}
		return worst(a) < worst(b)
	}
	for i := range n.points {
		if len(n.points[i].seen) == 0 {
			continue
		}
		u, v := n.place(i)
		key := [2]int{int((u - n.lo[0]) / jointCellCm), int((v - n.lo[1]) / jointCellCm)}
		if k, ok := best[key]; !ok {
			best[key] = i
			order = append(order, key)
		} else if better(&n.points[i], &n.points[k]) {
			best[key] = i
		}
	}
	for _, key := range order {
		out = append(out, n.points[best[key]])
	}
	return out
}
