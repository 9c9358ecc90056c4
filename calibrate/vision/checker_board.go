//go:build cgo

package vision

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// findBoard finds a checkerboard as a lattice of dark blocks. maybe: something
// was there that could be part of a board.
func findBoard(p *Picture, ref calibrate.Reference, camera calibrate.Camera) (found look.Found, maybe bool) {
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	refused := calibrate.Refuse(retakeChecker, "%s: no board of %d x %d inner corners found", ref, across, down).At(calibrate.Unseen)
	full, ok := p.raster()
	if !ok {
		return look.Found{Refused: refused}, false
	}
	var others [][2]place // boxes about boards of other sizes, in the full picture
	for _, pass := range p.passes() {
		lattices, factor := p.lattices(pass)
		for _, l := range lattices {
			columns, rows := l.size()
			if rows < 3 || len(l.order) < minBoardBlocks || l.within(others, factor) {
				p.considerBlocks(l, factor, false)
				continue
			}
			b, why, other := full.board(l, camera, factor, max(across, down), min(across, down))
			if why != "" {
				refused = calibrate.Refuse(retakeChecker, "%s: %d dark squares in %d columns and %d rows, but %s", ref, len(l.order), columns, rows, why)
				p.considerBlocks(l, factor, true)
				if other {
					others = append(others, l.box(factor))
				}
				maybe = true
				continue
			}
			points := b.points()
			sharpen(p, points, b.step)
			marks, counted := b.marks(ref, points)
			if _, err := calibrate.FitChecker(ref, camera, marks); err != nil {
				refused = calibrate.Refuse(retakeChecker, "%s: %v", ref, err)
				p.considerBlocks(l, factor, true)
				maybe = true
				continue
			}
			return look.Found{Marks: marks, Counted: counted}, true
		}
	}
	return look.Found{Refused: refused}, maybe && len(others) == 0
}

// points are the places of a board's nodes.
func (b board) points() []calibrate.Point {
	out := make([]calibrate.Point, len(b.nodes))
	for i, n := range b.nodes {
		out[i] = calibrate.Point{XPx: n.at.x, YPx: n.at.y}
	}
	return out
}

// marks names a board's corners as checkerMarks does. Where some are hidden,
// which ones is open: they are counted from the first one seen.
func (b board) marks(ref calibrate.Reference, points []calibrate.Point) ([]calibrate.Mark, string) {
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	columns, rows := b.hi.t-b.lo.t+1, b.hi.r-b.lo.r+1
	turn := columns > across || rows > down // the lattice lies along; the board is named the other way round
	var marks []calibrate.Mark
	for i, n := range b.nodes {
		u, v := n.cell.t-b.lo.t+1, n.cell.r-b.lo.r+1
		if turn {
			u, v = v, columns-u+1
		}
		marks = append(marks, calibrate.Mark{At: points[i], UCm: float64(u) * ref.SquareCm, VCm: float64(v) * ref.SquareCm})
	}
	counted := fmt.Sprintf("%d x %d inner corners", across, down)
	if len(marks) < across*down {
		counted = fmt.Sprintf("%d of %d x %d inner corners", len(marks), across, down)
	}
	return marks, counted
}

// minBoardBlocks is how many dark squares must be found as patches.
const minBoardBlocks = 5
