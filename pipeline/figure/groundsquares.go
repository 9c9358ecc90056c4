package figure

import (
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
)

// leavesCm is how far a square may lie off a plate's level before that is said.
const leavesCm = 2

// Table is the depth of each square in cm below the strings, as the squares lie in the plate's picture, named where their
// names are known; nil where too few are.
func (g *Ground) Table(l Lay, s *Squares) *look.Table {
	lat, ok := g.lattice()
	if !ok {
		return nil
	}
	x0, y0, ok0 := g.plate(l, lat.u(0, 0), lat.v(0, 0), 0)
	x1, y1, ok1 := g.plate(l, lat.u(1, 0), lat.v(1, 0), 0)
	x2, y2, ok2 := g.plate(l, lat.u(0, 1), lat.v(0, 1), 0)
	if !ok0 || !ok1 || !ok2 {
		return nil
	}
	// Which of the two ways runs across the plate, and whether it runs from left to right.
	turned := math.Abs(x1-x0) < math.Abs(y1-y0)
	across, down := g.Columns, g.Rows
	rightwards, downwards := x1 > x0, y2 > y0
	if turned {
		across, down = g.Rows, g.Columns
		rightwards, downwards = x2 > x0, y1 > y0
	}
	cell := func(i, j int) (column, row int) {
		if !rightwards {
			i = across - 1 - i
		}
		if !downwards {
			j = down - 1 - j
		}
		if turned {
			return j, i
		}
		return i, j
	}
	t := &look.Table{}
	for i := range across {
		t.Columns = append(t.Columns, g.axisName(s, lat, true, i, func(k int) (int, int) { return cell(i, k) }, down))
	}
	for j := range down {
		t.Rows = append(t.Rows, g.axisName(s, lat, false, j, func(k int) (int, int) { return cell(k, j) }, across))
		row := make([]string, across)
		for i := range across {
			if q, ok := g.Square(cell(i, j)); ok {
				row[i] = fmt.Sprintf("%.1f", q.BelowCm)
			}
		}
		t.Cells = append(t.Cells, row)
	}
	return t
}

// axisName is the part of a square's name that all n squares of one column or row of a table share; without names their
// number from the left or the top.
func (g *Ground) axisName(s *Squares, lat lattice, column bool, i int, cell func(k int) (int, int), n int) string {
	if s == nil {
		if column {
			return fmt.Sprintf("col. %d", i+1)
		}
		return fmt.Sprintf("row %d", i+1)
	}
	var first [2]string
	for k := range min(n, 2) {
		a, b := s.nameAt(g.Own(lat.u(cell(k)), lat.v(cell(k))))
		if k == 0 {
			first = [2]string{a, b}
			continue
		}
		if a == first[0] {
			return a
		}
	}
	return first[1]
}

// nameAt are the two parts of the name of the square that a place of the photo's plane lies in.
func (s *Squares) nameAt(u, v float64) (column, row string) {
	a, c := s.of(u, v)
	return s.columns.label(int(math.Floor(a))), s.rows.label(int(math.Floor(c)))
}

// A lattice is where the middle of each square lies on the first photo's plane.
type lattice struct {
	u0, v0       float64
	column, down [2]float64 // cm from a square to the next
}

func (l lattice) u(column, row int) float64 {
	return l.u0 + float64(column)*l.column[0] + float64(row)*l.down[0]
}
func (l lattice) v(column, row int) float64 {
	return l.v0 + float64(column)*l.column[1] + float64(row)*l.down[1]
}

// lattice finds it from the squares that were measured; false where they lie in one column or one row.
func (g *Ground) lattice() (l lattice, ok bool) {
	column, row := false, false
	for _, a := range g.Squares {
		for _, b := range g.Squares {
			switch d := float64(b.Column - a.Column); {
			case a.Row == b.Row && d > 0:
				l.column, column = [2]float64{(b.UCm - a.UCm) / d, (b.VCm - a.VCm) / d}, true
			case a.Column == b.Column && b.Row > a.Row:
				d := float64(b.Row - a.Row)
				l.down, row = [2]float64{(b.UCm - a.UCm) / d, (b.VCm - a.VCm) / d}, true
			}
		}
	}
	if !column || !row {
		return l, false
	}
	s := g.Squares[0]
	l.u0 = s.UCm - float64(s.Column)*l.column[0] - float64(s.Row)*l.down[0]
	l.v0 = s.VCm - float64(s.Column)*l.column[1] - float64(s.Row)*l.down[1]
	return l, true
}

// called is ", in A1": a square's name; "" where squares are not named.
func (g *Ground) called(q relief.Square, s *Squares) string {
	if s == nil {
		return ""
	}
	a, b := s.nameAt(g.Own(q.UCm, q.VCm))
	return ", in " + a + b
}

// Leaves says where the ground leaves a plate's level by more than 2 cm; "" where it does not.
func (g *Ground) Leaves(levelCm float64, s *Squares) string {
	times := byBar(g.Plane, levelCm)
	var parts []string
	for _, way := range []struct {
		name string
		down float64
	}{{"below", 1}, {"above", -1}} {
		n, far, at := 0, 0.0, relief.Square{}
		for _, q := range g.Squares {
			if off := way.down * (q.BelowCm - levelCm); off > leavesCm {
				if n++; off > far {
					far, at = off, q
				}
			}
		}
		if n == 0 {
			continue
		}
		text := fmt.Sprintf("more than %d cm %s the scale bar's level in %d of %d squares, by %.1f cm at the most", leavesCm, way.name, n, len(g.Squares), far)
		if by, ok := times(at.BelowCm); ok {
			text += fmt.Sprintf("%s: a length read there by the bar is to be multiplied by %.3f", g.called(at, s), by)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// Parallax says how far the ground is drawn out of its squares on a plate of the strings' plane, by what was measured.
func (g *Ground) Parallax(s *Squares) string {
	level, err := g.Plane.At(0)
	if err != nil {
		return ""
	}
	most, at := 0.0, relief.Square{}
	for _, q := range g.Squares {
		p, ok := g.photo(q.UCm, q.VCm, q.BelowCm)
		if !ok {
			continue
		}
		u, v, err := level.Cm(p)
		if err != nil {
			continue
		}
		x, y := g.Own(q.UCm, q.VCm)
		if d := math.Hypot(u-x, v-y); d > most {
			most, at = d, q
		}
	}
	if most < 0.1 {
		return ""
	}
	return fmt.Sprintf("what lies below the strings is drawn out of place, towards the point below the camera: by %.1f cm at the most%s, where the ground lies %s cm below them",
		most, g.called(at, s), toMm(calibrate.Quantity{Value: at.BelowCm, U: at.UBelowCm}))
}
