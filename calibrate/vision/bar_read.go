package vision

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// What dark blocks must show to be a bar.
const (
	minBarBlocks   = 3    // dark ones found as patches; the full picture may add to them
	minSmallBlocks = 4    // the same where patches of a few pixels are looked at
	minBarColumns  = 4    // blocks of either shade along the bar
	minBarSides    = 0.7  // share of the half sides that must be found
	minAlternating = 0.85 // share of neighbouring pairs in which dark is clearly darker
	darkRatio      = 0.62 // of the light neighbour
	leastReachPx   = 9    // to either side of an edge: what a moved or blurred one needs
	newBlockSides  = 7    // of 8 half sides that a block must show to be added
	newBlockOff    = 0.10 // blocks: how far these may be off
)

const retakeBar = "lay the bar beside the bone, clean and in even light, and go nearer, so that a block is at least as wide as a pencil in the picture"

// bar reads a lattice as a bar in the full picture and gives its marks, with
// the number of blocks in a row and of rows. No marks and no refusal: the
// lattice is nothing like a bar.
func (r greyRaster) bar(l blockLattice, ref calibrate.Reference, camera calibrate.Camera, factor float64) (marks []calibrate.Mark, blocks, rows int, why *calibrate.Refusal) {
	_, rows = l.size()
	if rows > 2 || len(l.order) < minBarBlocks {
		return nil, 0, 0, nil
	}
	plane, ok := l.coarse(camera, factor)
	if !ok {
		return nil, 0, 0, nil
	}
	refuse := func(format string, args ...any) ([]calibrate.Mark, int, int, *calibrate.Refusal) {
		return nil, 0, 0, calibrate.Refuse(retakeBar, "%s: "+format, append([]any{ref}, args...)...)
	}
	cells := slices.Clone(l.order)
	var edges []edgeSeen
	for round, reach := range []float64{edgeReach, 0.30, 0.22, 0.16} {
		m, ok := mappingOf(plane)
		if !ok {
			return nil, 0, 0, nil
		}
		reach = max(reach, min(edgeReach, leastReachPx/l.blockPx(factor)))
		edges = r.edges(m, cells, reach)
		if round < 2 {
			cells = r.extend(m, cells, edges)
			edges = r.edges(m, cells, reach)
		}
		if float64(len(edges)) < 0.5*8*float64(len(cells)) {
			return refuse("a row of %d dark patches has only %d of %d half sides", len(cells), len(edges), 8*len(cells))
		}
		next, ok := refined(plane, camera, edges)
		if !ok {
			return refuse("the sides of %d dark patches do not lie on a lattice", len(cells))
		}
		plane = next
	}
	m, _ := mappingOf(plane)
	lo, hi := spanOf(cells)
	columns := hi.t - lo.t + 1
	rows = hi.r - lo.r + 1
	switch {
	case len(cells) < 4 && rows > 1 || columns < minBarColumns+1:
		return refuse("only %d blocks in a row found, need %d", columns, minBarColumns+1)
	case float64(len(edges)) < minBarSides*8*float64(len(cells)):
		return refuse("only %d of %d half sides of its blocks found", len(edges), 8*len(cells))
	}
	if good, all := r.alternating(m, cells); float64(good) < minAlternating*float64(all) {
		return refuse("only %d of %d neighbouring blocks are dark beside light", good, all)
	}
	if r.continues(m, lo, hi) {
		return refuse("the pattern goes on beside the row: it is a board, or part of one")
	}
	return edgeMarks(settledEdges(edges, lo), ref.BlockCm), columns, rows, nil
}

func spanOf(cells []cell) (lo, hi cell) { return blockLattice{order: cells}.span() }

// settledEdges renames edges so that the bar begins at (0, 0).
func settledEdges(edges []edgeSeen, lo cell) []edgeSeen {
	out := slices.Clone(edges)
	for i := range out {
		out[i].cell = cell{out[i].cell.t - lo.t, out[i].cell.r - lo.r}
	}
	return out
}

// refined fits the plane anew to edges in the full picture, in cells.
func refined(plane *calibrate.Plane, camera calibrate.Camera, edges []edgeSeen) (*calibrate.Plane, bool) {
	o := calibrate.FitOptions{Start: &plane.Homography, K1: plane.K1, Rounds: 4}
	p, _, err := calibrate.Fit(calibrate.Reference{}, camera, edgeMarks(edges, 1), o)
	return p, err == nil
}

// extend adds blocks beside those known that mud, glare or shade kept from
// being patches, if their sides are where the lattice says.
func (r greyRaster) extend(m mapping, cells []cell, edges []edgeSeen) []cell {
	var steps []float64
	for _, e := range edges {
		steps = append(steps, e.step)
	}
	if len(steps) == 0 {
		return cells
	}
	need := 0.4 * middle(steps)
	known := map[cell]bool{}
	for _, c := range cells {
		known[c] = true
	}
	out := slices.Clone(cells)
	for n := 0; n < len(out); n++ {
		for _, d := range []cell{{2, 0}, {-2, 0}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			c := cell{out[n].t + d.t, out[n].r + d.r}
			lo, hi := spanOf(append(slices.Clone(out), c))
			if known[c] || hi.r-lo.r > 1 {
				continue
			}
			known[c] = true
			good := 0
			for side := range 4 {
				for half := range 2 {
					e, ok := r.edge(m, c, side, half, 0.3)
					if ok && math.Abs(e.off) <= newBlockOff && e.step >= need {
						good++
					}
				}
			}
			if good >= newBlockSides {
				out = append(out, c)
			}
		}
	}
	return out
}

// level is the grey in the middle of a cell.
func (r greyRaster) level(m mapping, t, row float64) (float64, bool) {
	var v []float64
	for _, a := range []float64{0.3, 0.4, 0.5, 0.6, 0.7} {
		for _, b := range []float64{0.3, 0.4, 0.5, 0.6, 0.7} {
			p, ok := m(t+a, row+b)
			if !ok {
				return 0, false
			}
			g, ok := r.at(p)
			if !ok {
				return 0, false
			}
			v = append(v, g)
		}
	}
	return middle(v), true
}

// alternating counts the pairs of a dark block and a light neighbour between
// two dark ones, or in the other row, that look it.
func (r greyRaster) alternating(m mapping, cells []cell) (good, all int) {
	lo, hi := spanOf(cells)
	for _, c := range cells {
		dark, ok := r.level(m, float64(c.t), float64(c.r))
		if !ok {
			continue
		}
		for _, d := range []cell{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			n := cell{c.t + d.t, c.r + d.r}
			if n.t < lo.t || n.t > hi.t || n.r < lo.r || n.r > hi.r {
				continue
			}
			light, ok := r.level(m, float64(n.t), float64(n.r))
			if !ok {
				continue
			}
			all++
			if dark < darkRatio*light {
				good++
			}
		}
	}
	return good, all
}

// continues tells whether dark and light alternate in the row beside the bar
// too, on either side: then it is part of a board.
func (r greyRaster) continues(m mapping, lo, hi cell) bool {
	for _, row := range []int{lo.r - 1, hi.r + 1} {
		good, all := 0, 0
		var before float64
		for t := lo.t; t <= hi.t; t++ {
			g, ok := r.level(m, float64(t), float64(row))
			if !ok {
				before = 0
				continue
			}
			if before > 0 && t > lo.t {
				all++
				dark, light := before, g
				if (t+row)&1 == 0 { // the lattice has dark blocks where t + r is even
					dark, light = g, before
				}
				if dark < darkRatio*light {
					good++
				}
			}
			before = g
		}
		if all >= 3 && float64(good) >= 0.65*float64(all) {
			return true
		}
	}
	return false
}
