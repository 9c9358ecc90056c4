package sheet

import (
	"fmt"

	"fieldjacket/overlay/letters"
)

// A Table is heads and rows of text. Shares are the columns' widths as shares of their sum.
type Table struct {
	Heads  []string // none: no head row
	Shares []float64
	Rows   [][]string
	Small  bool // for file lists
	First  bool // the first column is bold: names of facts
}

const padMm = 1.2

// Table sets a table with rules. Cells wrap; a row is kept on one page unless it is taller than half a page; heads are
// repeated.
func (s *Sheets) Table(t Table) {
	widths := s.widths(t.Shares)
	em := textEm
	if t.Small {
		em = smallEm
	}
	for _, row := range append([][]string{t.Heads}, t.Rows...) {
		if len(row) > len(widths) {
			s.fail(fmt.Errorf("table row of %d cells: the table has %d columns", len(row), len(widths)))
			return
		}
	}
	heads := s.cells(t.Heads, widths, em, func(int) letters.Weight { return letters.Bold })
	headTall := 0.0
	if len(t.Heads) > 0 {
		headTall = heads.tall(em)
		s.Need(headTall + 2*leadEm*em + 2*padMm)
		s.row(heads, widths, em)
	}
	for _, cells := range t.Rows {
		row := s.cells(cells, widths, em, func(i int) letters.Weight {
			if t.First && i == 0 {
				return letters.Bold
			}
			return letters.Regular
		})
		for {
			tall := row.tall(em)
			if tall <= s.RoomMm() {
				s.row(row, widths, em)
				break
			}
			fit := int((s.RoomMm() - 2*padMm) / (leadEm * em))
			if tall > s.PageMm()/2 && fit >= 3 { // too tall to move as a whole
				s.row(row.cut(fit), widths, em)
				row = row.from(fit)
			}
			s.Page()
			if len(t.Heads) > 0 {
				s.row(heads, widths, em)
			}
		}
	}
	s.Gap(3)
}

// Facts sets names in bold and their texts beside them.
func (s *Sheets) Facts(rows [][2]string) {
	t := Table{Shares: []float64{0.3, 0.7}, First: true}
	for _, r := range rows {
		t.Rows = append(t.Rows, r[:])
	}
	s.Table(t)
}

// cells is one row, wrapped.
type cells struct {
	lines   [][]string
	weights []letters.Weight
}

func (s *Sheets) cells(texts []string, widths []float64, em float64, weight func(int) letters.Weight) cells {
	c := cells{}
	for i, text := range texts {
		c.lines = append(c.lines, s.wrap(text, em, widths[i]-2*padMm, weight(i)))
		c.weights = append(c.weights, weight(i))
	}
	return c
}

func (c cells) tall(em float64) float64 {
	most := 1
	for _, lines := range c.lines {
		most = max(most, len(lines))
	}
	return leadEm*em*float64(most) + 2*padMm
}

func (c cells) cut(n int) cells {
	out := cells{weights: c.weights}
	for _, lines := range c.lines {
		out.lines = append(out.lines, lines[:min(n, len(lines))])
	}
	return out
}

func (c cells) from(n int) cells {
	out := cells{weights: c.weights}
	for _, lines := range c.lines {
		out.lines = append(out.lines, lines[min(n, len(lines)):])
	}
	return out
}

// row draws a row with its rules at the present place.
func (s *Sheets) row(c cells, widths []float64, em float64) {
	tall := c.tall(em)
	x := float64(leftMm)
	for i, lines := range c.lines {
		for n, line := range lines {
			s.line(line, x+padMm, s.y+padMm+em*0.92+leadEm*em*float64(n), em, c.weights[i])
		}
		x += widths[i]
	}
	s.rules(widths, tall)
}

// rules draws the rules round an empty row and goes on below it.
func (s *Sheets) rules(widths []float64, tall float64) {
	x := float64(leftMm)
	s.rule(x, s.y, x+s.WidthMm(), s.y, 0.2)
	s.rule(x, s.y+tall, x+s.WidthMm(), s.y+tall, 0.2)
	for _, w := range append([]float64{0}, widths...) {
		x += w
		s.rule(x, s.y, x, s.y+tall, 0.2)
	}
	s.y += tall
}

// widths are columns of the sheet's width, by their shares of it.
func (s *Sheets) widths(shares []float64) []float64 {
	sum := 0.0
	for _, share := range shares {
		sum += share
	}
	widths := make([]float64, len(shares))
	for i, share := range shares {
		widths[i] = share / sum * s.WidthMm()
	}
	return widths
}
