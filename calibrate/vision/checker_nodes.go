package vision

import (
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A node is an inner corner of a board: where four squares meet.
type node struct {
	cell cell
	at   place
}

// A board is what a lattice of dark squares came to at full size.
type board struct {
	nodes  []node
	lo, hi cell
	step   float64 // px between neighbouring nodes, the least
}

const (
	nodeOff     = 0.22 // squares: how far from a node its four squares are looked at
	nodeRatio   = 0.72 // a dark square is below this share of either light one
	minNodes    = calibrate.MinCheckerCorners
	boardRounds = 4
)

// board looks for the nodes of a lattice and about it in the full picture:
// places where dark and light squares meet crosswise. A hidden or muddy corner
// is left out. Each round fits the plane, lens and all, to those known and so
// reaches farther. why tells what is wrong with the lattice.
// Where other is set the lattice is a board, but not the one asked for, or too
// little of it to tell: a board that is short of corners both ways is refused.
func (r greyRaster) board(l blockLattice, camera calibrate.Camera, factor float64, most, least int) (b board, why string, other bool) {
	plane, ok := l.coarse(camera, factor)
	if !ok {
		return b, "they fix no plane", false
	}
	lo, hi := l.span()
	for round := range boardRounds {
		m, ok := mappingOf(plane)
		if !ok {
			return b, "they fix no plane", false
		}
		b.nodes = b.nodes[:0]
		for row := lo.r - 1; row <= hi.r+2; row++ {
			for t := lo.t - 1; t <= hi.t+2; t++ {
				c := cell{t, row}
				if at, ok := r.node(m, c); ok {
					b.nodes = append(b.nodes, node{c, at})
				}
			}
		}
		b.nodes = withoutStrays(b.nodes, likelyInside)
		if len(b.nodes) < minNodes {
			return b, fmt.Sprintf("only %d corners between them, need %d", len(b.nodes), minNodes), false
		}
		b.lo, b.hi = spanOf(cellsOf(b.nodes))
		b.step = nodeStep(m, b.nodes)
		if round == boardRounds-1 || b.lo.t > lo.t-1 && b.lo.r > lo.r-1 && b.hi.t < hi.t+2 && b.hi.r < hi.r+2 && round > 0 {
			break
		}
		lo, hi = cell{min(lo.t, b.lo.t), min(lo.r, b.lo.r)}, cell{max(hi.t, b.hi.t-1), max(hi.r, b.hi.r-1)}
		if plane, ok = refinedNodes(r, m, b.nodes, camera, plane); !ok {
			return b, "their corners fix no plane", false
		}
	}
	columns, rows := b.hi.t-b.lo.t+1, b.hi.r-b.lo.r+1
	if max(columns, rows) > most || min(columns, rows) > least {
		b.nodes = withoutStrays(b.nodes, surelyInside)
		b.lo, b.hi = spanOf(cellsOf(b.nodes))
		columns, rows = b.hi.t-b.lo.t+1, b.hi.r-b.lo.r+1
	}
	if max(columns, rows) > most || min(columns, rows) > least {
		return b, fmt.Sprintf("%d x %d corners between them, more than the board has", columns, rows), true
	}
	if max(columns, rows) < most && min(columns, rows) < least || 2*len(b.nodes) < most*least {
		return b, fmt.Sprintf("only %d corners between them, %d x %d: another board, or half hidden", len(b.nodes), columns, rows), true
	}
	return b, "", false
}

func cellsOf(nodes []node) []cell {
	cells := make([]cell, len(nodes))
	for i, n := range nodes {
		cells[i] = n.cell
	}
	return cells
}

// Shares of the fullest column's nodes that an outermost column must have, and
// rows alike. The second is for lattices larger than the board.
const (
	likelyInside = 0.5
	surelyInside = 0.8
)

// withoutStrays drops outermost columns and rows of nodes that hold less than
// a share of what the fullest does: something beside the board, the edge of a
// shadow on it, looks like corners.
func withoutStrays(nodes []node, share float64) []node {
	for {
		var columns, rows = map[int]int{}, map[int]int{}
		for _, n := range nodes {
			columns[n.cell.t]++
			rows[n.cell.r]++
		}
		if len(nodes) == 0 {
			return nodes
		}
		fullest := func(counts map[int]int) (most int) { // the order of a map does not matter to a maximum
			for _, n := range counts {
				most = max(most, n)
			}
			return most
		}
		inColumn, inRow := fullest(columns), fullest(rows)
		lo, hi := spanOf(cellsOf(nodes))
		stray := func(n node) bool {
			t, r := n.cell.t, n.cell.r
			return (t == lo.t || t == hi.t) && float64(columns[t]) < share*float64(inColumn) || (r == lo.r || r == hi.r) && float64(rows[r]) < share*float64(inRow)
		}
		kept := slices.DeleteFunc(slices.Clone(nodes), stray)
		if len(kept) == len(nodes) {
			return nodes
		}
		nodes = kept
	}
}

// node tells whether four squares meet crosswise where the lattice says.
func (r greyRaster) node(m mapping, c cell) (place, bool) {
	at, ok := m(float64(c.t), float64(c.r))
	if !ok || !(at.x > 2 && at.y > 2 && at.x < float64(r.width-3) && at.y < float64(r.height-3)) {
		return at, false
	}
	var grey [4]float64 // clockwise from (t-, r-)
	for i, o := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		var v [5]float64
		for k, d := range [5][2]float64{{0, 0}, {0.06, 0}, {-0.06, 0}, {0, 0.06}, {0, -0.06}} {
			p, okP := m(float64(c.t)+o[0]*nodeOff+d[0], float64(c.r)+o[1]*nodeOff+d[1])
			g, okG := r.at(p)
			if !okP || !okG {
				return at, false
			}
			v[k] = g
		}
		grey[i] = middle(v[:])
	}
	a, b := 0, 1 // squares 0 and 2 are dark where t + r is even: (t-1, r-1) is then a dark cell
	if (c.t+c.r)&1 != 0 {
		a, b = 1, 0
	}
	dark, light := max(grey[a], grey[a+2]), min(grey[b], grey[b+2])
	own := grey[a] < nodeRatio*grey[b] && grey[a] < nodeRatio*grey[b+2] && grey[a+2] < nodeRatio*grey[b] && grey[a+2] < nodeRatio*grey[b+2]
	return at, own && light-dark >= minStep
}

// refinedNodes fits the plane anew to edges beside the nodes: on each side of
// a node that both its squares show.
func refinedNodes(r greyRaster, m mapping, nodes []node, camera calibrate.Camera, plane *calibrate.Plane) (*calibrate.Plane, bool) {
	var cells []cell
	for _, n := range nodes {
		for _, d := range []cell{{-1, -1}, {0, 0}, {-1, 0}, {0, -1}} {
			c := cell{n.cell.t + d.t, n.cell.r + d.r}
			if (c.t+c.r)&1 == 0 {
				cells = append(cells, c)
			}
		}
	}
	seen := map[cell]bool{}
	known := map[cell]bool{}
	for _, n := range nodes {
		known[n.cell] = true
	}
	var edges []edgeSeen
	for _, c := range cells {
		if seen[c] {
			continue
		}
		seen[c] = true
		for side := range 4 {
			for half := range 2 {
				if !known[endOf(c, side, half)] {
					continue // outer sides of a board may be anywhere
				}
				if e, ok := r.edge(m, c, side, half, 0.3); ok && math.Abs(e.off) < 0.25 {
					edges = append(edges, e)
				}
			}
		}
	}
	return refined(plane, camera, edges)
}

// endOf is the corner of a block at which a half of one of its sides ends.
func endOf(c cell, side, half int) cell {
	switch side {
	case 0:
		return cell{c.t, c.r + half}
	case 1:
		return cell{c.t + 1, c.r + half}
	case 2:
		return cell{c.t + half, c.r}
	}
	return cell{c.t + half, c.r + 1}
}

// nodeStep is the least distance between neighbouring nodes, in px.
func nodeStep(m mapping, nodes []node) float64 {
	step := math.Inf(1)
	for _, n := range nodes {
		for _, d := range []cell{{1, 0}, {0, 1}} {
			if p, ok := m(float64(n.cell.t+d.t), float64(n.cell.r+d.r)); ok {
				step = min(step, p.minus(n.at).size())
			}
		}
	}
	return step
}
