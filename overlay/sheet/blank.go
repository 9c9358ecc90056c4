package sheet

import "fieldjacket/overlay/letters"

// Sizes of what is written into by hand, mm.
const (
	fieldTallMm = 7.2
	lineTallMm  = 9
	fieldNameEm = 3.1
)

// Fields sets the rest of the page with names and an empty field beside each, in as many columns of fields as it takes, up
// to two. The first so many names, which are always asked for, are bold.
func (s *Sheets) Fields(names []string, bold int) {
	rows, columns := len(names), 1
	if float64(rows)*fieldTallMm > s.RoomMm() {
		columns, rows = 2, (len(names)+1)/2
	}
	tall := min(fieldTallMm*1.4, s.RoomMm()/float64(rows))
	wide := s.WidthMm() / float64(columns)
	name := 0.0
	for i, text := range names {
		name = max(name, s.widthMm(text, fieldNameEm, weightOf(i < bold))+3)
	}
	for i, text := range names {
		x, y := leftMm+wide*float64(i/rows), s.y+tall*float64(i%rows)
		s.line(text, x+padMm, y+tall-2.2, fieldNameEm, weightOf(i < bold))
		s.rect(x, y, wide, tall, 0.2)
		s.rule(x+name, y, x+name, y+tall, 0.2)
	}
	s.Gap(tall*float64(rows) + 3)
}

// Lines fills the rest of the page with an empty table to write into.
func (s *Sheets) Lines(heads []string, shares []float64) {
	widths := s.widths(shares)
	s.row(s.cells(heads, widths, smallEm, func(int) letters.Weight { return letters.Bold }), widths, smallEm)
	for s.RoomMm() >= lineTallMm {
		s.rules(widths, lineTallMm)
	}
}

func weightOf(bold bool) letters.Weight {
	if bold {
		return letters.Bold
	}
	return letters.Regular
}
