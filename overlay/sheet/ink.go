package sheet

import (
	"codeberg.org/go-pdf/fpdf"

	"fieldjacket/overlay/letters"
)

const pointsPerMm = 72 / 25.4

// line letters one line with the left end of its foot at (x, y); em is the font's size in mm.
func (s *Sheets) line(text string, x, y, em float64, w letters.Weight) {
	runs, err := letters.Runs(text, w)
	if err != nil {
		s.fail(err)
		return
	}
	for _, run := range runs {
		f := run.Font
		if !s.loaded[f.Name] {
			s.pdf.AddUTF8FontFromBytes(f.Name, "", f.TTF)
			s.loaded[f.Name] = true
		}
		s.pdf.SetFont(f.Name, "", em*pointsPerMm)
		s.pdf.Text(x, y, run.Text)
		width, _ := letters.WidthEm(run.Text, w)
		x += width * em
	}
}

func (s *Sheets) widthMm(text string, em float64, w letters.Weight) float64 {
	width, err := letters.WidthEm(text, w)
	s.fail(err)
	return width * em
}

// fit is the size, at most em, at which a line is no wider than room.
func (s *Sheets) fit(text string, em, room float64, w letters.Weight) float64 {
	return min(em, room/max(0.1, s.widthMm(text, 1, w)))
}

func (s *Sheets) wrap(text string, em, room float64, w letters.Weight) []string {
	lines, err := letters.Wrap(text, w, room/em)
	s.fail(err)
	return lines
}

func (s *Sheets) rule(x1, y1, x2, y2, wide float64) {
	s.pdf.SetLineWidth(wide)
	s.pdf.SetLineCapStyle("butt")
	s.pdf.Line(x1, y1, x2, y2)
}

func (s *Sheets) rect(x, y, w, h, wide float64) {
	s.pdf.SetLineWidth(wide)
	s.pdf.Rect(x, y, w, h, "D")
}

// image draws a registered picture; the sizes are those on paper.
func (s *Sheets) image(name string, x, y, w, h float64) {
	s.pdf.ImageOptions(name, x, y, w, h, false, fpdf.ImageOptions{ImageType: "JPG", AllowNegativePosition: true}, 0, "")
}
