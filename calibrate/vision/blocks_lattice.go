package vision

import "math"

// A cell is a place in a lattice of blocks: column along, row across.
type cell struct{ t, r int }

// besides are the ways from a square to those that share a side with it.
var besides = [4]cell{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}

// cellCorners are the corners of a square from that of its cell, clockwise.
var cellCorners = [4]cell{{0, 0}, {1, 0}, {1, 1}, {0, 1}}

// A blockLattice is a set of dark blocks that alternate with light ones, as on
// a bar or a board: t + r is even in every cell.
type blockLattice struct {
	blocks map[cell]quad // corner 0 at (t, r), 1 at (t+1, r), 2 at (t+1, r+1), 3 at (t, r+1)
	order  []cell        // in the order found
}

// How alike neighbours in a lattice must be.
const (
	nearTol   = 0.30 // of the short side: how far off its place a neighbour may lie
	farTol    = 0.45 // the same over a missing block
	sameTol   = 0.38 // of a side's length: how far off the neighbour's own side may be
	sameArea  = 2.0
	minChain  = 3  // blocks from which on a lattice is kept
	maxChains = 12 // lattices that are tried, largest first
)

var neighbours = []struct {
	dt, dr int
	tol    float64
}{
	{1, 1, nearTol}, {1, -1, nearTol}, {-1, 1, nearTol}, {-1, -1, nearTol},
	{2, 0, nearTol}, {-2, 0, nearTol}, {0, 2, nearTol}, {0, -2, nearTol},
	{4, 0, farTol}, {-4, 0, farTol}, {3, 1, farTol}, {3, -1, farTol}, {-3, 1, farTol}, {-3, -1, farTol},
}

// turned is q with its corners renamed so that its sides lie nearest to e and g.
func (q quad) turned(e, g place) quad {
	best, out := math.Inf(-1), q
	for k := range 4 {
		a := quad{[4]place{q.corner[k], q.corner[(k+1)%4], q.corner[(k+2)%4], q.corner[(k+3)%4]}, q.centre, q.area}
		ae, ag := a.sides()
		if fit := ae.dot(e)/(ae.size()*e.size()) + ag.dot(g)/(ag.size()*g.size()); fit > best {
			best, out = fit, a
		}
	}
	return out
}

// like tells whether the neighbour's own sides are those expected.
func (q quad) like(e, g place, area float64) bool {
	qe, qg := q.sides()
	return qe.minus(e).size() <= sameTol*e.size() && qg.minus(g).size() <= sameTol*g.size() &&
		max(q.area, area) <= sameArea*min(q.area, area)
}

// growLattices joins quads into lattices, the largest first. Each block hands
// its own sides on, so that perspective and a bent lens are followed.
func growLattices(quads []quad) []blockLattice {
	near := newBuckets(quads)
	var all []blockLattice
	taken := make([]bool, len(quads))
	for seed := range quads {
		if taken[seed] {
			continue
		}
		l := blockLattice{blocks: map[cell]quad{{0, 0}: quads[seed]}, order: []cell{{0, 0}}}
		used := []int{seed}
		mine := map[int]bool{seed: true}
		for n := 0; n < len(l.order); n++ {
			at := l.order[n]
			from := l.blocks[at]
			e, g := from.sides()
			short := min(e.size(), g.size())
			for _, d := range neighbours {
				to := cell{at.t + d.dt, at.r + d.dr}
				if _, there := l.blocks[to]; there {
					continue
				}
				want := from.centre.plus(e.times(float64(d.dt))).plus(g.times(float64(d.dr)))
				i, ok := near.nearest(want, d.tol*short)
				if !ok || mine[i] {
					continue
				}
				q := quads[i].turned(e, g)
				if !q.like(e, g, from.area) {
					continue
				}
				l.blocks[to] = q
				l.order = append(l.order, to)
				mine[i] = true
				used = append(used, i)
			}
		}
		if len(l.order) < minChain {
			continue
		}
		for _, i := range used {
			taken[i] = true
		}
		all = append(all, l.settled())
	}
	sortStable(all, func(l blockLattice) int { return -len(l.order) })
	return all[:min(len(all), maxChains)]
}

// span is the box of the lattice's cells.
func (l blockLattice) span() (lo, hi cell) {
	lo, hi = l.order[0], l.order[0]
	for _, c := range l.order {
		lo = cell{min(lo.t, c.t), min(lo.r, c.r)}
		hi = cell{max(hi.t, c.t), max(hi.r, c.r)}
	}
	return lo, hi
}

// settled moves the lattice to begin near (0, 0) and turns it so that it is
// longer along than across, keeping it as seen, not mirrored.
func (l blockLattice) settled() blockLattice {
	lo, hi := l.span()
	if hi.t-lo.t < hi.r-lo.r {
		turned := blockLattice{blocks: map[cell]quad{}}
		for _, c := range l.order { // a quarter turn: along becomes across
			q := l.blocks[c]
			to := cell{c.r, -c.t}
			turned.blocks[to] = quad{[4]place{q.corner[1], q.corner[2], q.corner[3], q.corner[0]}, q.centre, q.area}
			turned.order = append(turned.order, to)
		}
		l = turned
		lo, _ = l.span()
	}
	if (lo.t+lo.r)&1 != 0 {
		lo.t-- // dark blocks stay where t + r is even
	}
	moved := blockLattice{blocks: map[cell]quad{}}
	for _, c := range l.order {
		to := cell{c.t - lo.t, c.r - lo.r}
		moved.blocks[to] = l.blocks[c]
		moved.order = append(moved.order, to)
	}
	return moved
}

// size is how many columns and rows the lattice spans.
func (l blockLattice) size() (columns, rows int) {
	lo, hi := l.span()
	return hi.t - lo.t + 1, hi.r - lo.r + 1
}

// box is the upright box about the lattice's blocks, wider by two of them, in
// the picture that factor takes theirs to.
func (l blockLattice) box(factor float64) [2]place {
	lo, hi := place{math.Inf(1), math.Inf(1)}, place{math.Inf(-1), math.Inf(-1)}
	for _, c := range l.order {
		q := l.blocks[c]
		e, g := q.sides()
		wide := 2.5 * max(e.size(), g.size())
		lo = place{min(lo.x, factor*(q.centre.x-wide)), min(lo.y, factor*(q.centre.y-wide))}
		hi = place{max(hi.x, factor*(q.centre.x+wide)), max(hi.y, factor*(q.centre.y+wide))}
	}
	return [2]place{lo, hi}
}

// within tells whether the lattice's first block lies in one of the boxes.
func (l blockLattice) within(boxes [][2]place, factor float64) bool {
	at := l.blocks[l.order[0]].centre.times(factor)
	for _, b := range boxes {
		if at.x > b[0].x && at.y > b[0].y && at.x < b[1].x && at.y < b[1].y {
			return true
		}
	}
	return false
}

// blockPx is the length along the lattice of its first block, in the picture
// that factor takes its own to.
func (l blockLattice) blockPx(factor float64) float64 {
	e, _ := l.blocks[l.order[0]].sides()
	return factor * e.size()
}
