package findmap

import (
	"fmt"
	"io"
	"time"

	"fieldjacket/overlay/drawing"
	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
)

// Scales are the n of 1:n that maps are drawn at.
var Scales = []float64{5, 10, 20, 50}

// Papers are the sheets that maps are drawn on.
var Papers = []sheet.Paper{sheet.A4, sheet.A3, sheet.Letter, sheet.A1}

// A Sheet is how a map is printed.
type Sheet struct {
	Name  string // of the season
	N     float64
	Paper sheet.Paper
	Made  time.Time
}

// stripMm is how tall the strip below each sheet is.
const stripMm = 24

// Fitting is the largest scale at which the map stands on one sheet of a paper, else 50; and the paper, laid across where that takes
// fewer sheets or a larger scale.
func (m *Map) Fitting(paper sheet.Paper) (n float64, laid sheet.Paper) {
	for _, n := range Scales {
		if p := m.Laid(n, paper); m.sheets(n, p) == 1 {
			return n, p
		}
	}
	last := Scales[len(Scales)-1]
	return last, m.Laid(last, paper)
}

// Laid is the paper laid so that the map at 1:n takes the fewest sheets.
func (m *Map) Laid(n float64, paper sheet.Paper) sheet.Paper {
	if across := paper.Turned(); m.sheets(n, across) < m.sheets(n, paper) {
		return across
	}
	return paper
}

func (m *Map) sheets(n float64, paper sheet.Paper) int {
	e0, n0, e1, n1, _ := m.Bounds()
	return sheet.DrawingSheets(paper, (e1-e0+2*padM)*1000/n, (n1-n0+2*padM)*1000/n, stripMm)
}

// WritePDF writes the map true to scale, and its tables behind it.
func (m *Map) WritePDF(w io.Writer, o Sheet) error {
	s := sheet.New(sheet.Options{Paper: o.Paper, Number: letters.Spell(o.Name), Title: "map of finds", Made: o.Made})
	says := fmt.Sprintf("1:%g. Metres east and north of %s, by %s.", o.N, m.North.DatumName(), m.North)
	if d, ok := m.Draw(o.N); ok {
		s.Drawing(d, m.Strip(o.N, s.WidthMm()), letters.Spell(says))
		s.Page()
	} else {
		s.Bold("Nothing can be drawn yet: no set-up is placed.")
	}
	for _, t := range m.Tables() {
		s.Heading(t.Title)
		for _, text := range t.Says {
			s.Text(letters.Spell(text))
		}
		if t.Heads == nil {
			continue
		}
		table := sheet.Table{Heads: t.Heads, Shares: shares(t), Small: true}
		for _, row := range t.Rows {
			var cells []string
			for _, cell := range row {
				cells = append(cells, letters.Spell(cell))
			}
			table.Rows = append(table.Rows, cells)
		}
		s.Table(table)
	}
	if rose, ok := m.Rose(); ok {
		s.Drawing(rose, drawing.Drawing{}, "Rose of the long axes: as axes each counts on both sides; areas go by the counts.")
	}
	return s.Write(w)
}

// shares are the widths of columns, by their longest words but none too narrow or too wide.
func shares(t Table) []float64 {
	out := make([]float64, len(t.Heads))
	for i, head := range t.Heads {
		out[i] = float64(len(head))
		for _, row := range t.Rows {
			out[i] = max(out[i], float64(len(row[i])))
		}
		out[i] = min(max(out[i], 9), 42)
	}
	return out
}

// WriteSVG writes the whole map as one drawing in named groups, with its strip.
func (m *Map) WriteSVG(w io.Writer, o Sheet) error {
	d, ok := m.Draw(o.N)
	strip := m.Strip(o.N, max(d.WideMm, 170))
	if !ok {
		d.WideMm = strip.WideMm
	}
	all := drawing.Drawing{WideMm: max(d.WideMm, strip.WideMm) + 10, TallMm: d.TallMm + strip.TallMm + 14}
	all.Layers = append(d.Shifted(5, 5), strip.Shifted(5, d.TallMm+9)...)
	return drawing.WriteSVG(w, all, fmt.Sprintf("%s: map of finds, 1:%g", o.Name, o.N))
}
