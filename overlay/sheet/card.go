package sheet

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/placard"
	"fieldjacket/overlay/letters"
)

// A CardPrint is one of our cards as it is printed, one on a sheet.
type CardPrint struct {
	Number int    // of the card, see [card.Cards]
	Arrow  string // where the arrow is to point: "north", "head end"
	Jacket string // printed in the panel; empty: a line to write on
}

// The card, mm. Its field of squares has white all round, since a dark thing
// beside a square would hide where the square ends.
const (
	CardWidthMm  = 156.0
	CardHeightMm = 178.0
	FieldLeftMm  = 12.0 // of the field on the card
	FieldTopMm   = 30.0

	CardTopMm = 14.0 // of the card on the sheet
	fieldFoot = FieldTopMm + 7*card.SquareMm
	checkDown = fieldFoot + 10
	panelDown = checkDown + 8
	cutMm     = 6.0 // a cutting mark's far end from the corner
	mostArrow = 16  // letters
)

// cardsMade is the date that stands in the file of every card: the same card
// is the same file, whenever it is printed.
var cardsMade = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)

// WriteCards writes cards true to size, a sheet each, with how to make and lay
// them beside them.
func WriteCards(w io.Writer, paper Paper, cards []CardPrint) error {
	if len(cards) == 0 {
		return errors.New("no card named")
	}
	if paper == (Paper{}) {
		paper = A4
	}
	s := &Sheets{Options: Options{Paper: paper, Made: cardsMade}, loaded: map[string]bool{}}
	s.pdf = newPDF(paper, cardsMade, "cards")
	for _, c := range cards {
		if err := c.validate(); err != nil {
			return err
		}
		s.pdf.AddPage()
		s.card(c)
	}
	return s.finish(w, "cards")
}

func (c CardPrint) validate() error {
	if err := card.Cards.Validate(c.Number); err != nil {
		return fmt.Errorf("card %w", err)
	}
	if n := len([]rune(c.Arrow)); n == 0 || n > mostArrow {
		return fmt.Errorf("arrow %q: want 1 to %d letters, such as north or head end", c.Arrow, mostArrow)
	}
	if c.Jacket == "" {
		return nil
	}
	return placard.Validate(c.Jacket)
}

// card draws one card with its cutting marks and instructions.
func (s *Sheets) card(c CardPrint) {
	x, y := (s.Paper.WidthMm-CardWidthMm)/2, CardTopMm
	s.cutMarks(x, y, CardWidthMm, CardHeightMm)
	s.arrow(c, x, y)
	s.field(card.Cards, c.Number, x+FieldLeftMm, y+FieldTopMm)
	s.measureMe(x+CardWidthMm/2, y+checkDown)
	s.panel(c, x, y+panelDown)
	s.instructions(c, x, y+CardHeightMm+12)
}

// measureMe draws the line of 100 mm with its middle at (x, y).
func (s *Sheets) measureMe(x, y float64) {
	left := x - CheckMm/2
	s.rule(left, y, left+CheckMm, y, 0.3)
	for _, end := range []float64{0, CheckMm} {
		s.rule(left+end, y-2.5, left+end, y+2.5, 0.2)
	}
	s.centred("check: 100 mm between end ticks", x, y+4.6, 3.2, letters.Regular)
}

// cutMarks draws the marks to cut along outside the corners of what is wide and
// tall mm.
func (s *Sheets) cutMarks(x, y, wide, tall float64) {
	for _, corner := range [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		px, py := x+corner[0]*wide, y+corner[1]*tall
		dx, dy := cutMm*(2*corner[0]-1), cutMm*(2*corner[1]-1)
		s.rule(px+dx/6, py, px+dx, py, 0.15)
		s.rule(px, py+dy/6, px, py+dy, 0.15)
	}
}

// arrow draws the arrow and its word over the field.
func (s *Sheets) arrow(c CardPrint, x, y float64) {
	middle := x + CardWidthMm/2
	s.pdf.SetFillColor(0, 0, 0)
	s.pdf.Polygon([]fpdf.PointType{{X: middle, Y: y + 3}, {X: middle + 11, Y: y + 21}, {X: middle, Y: y + 17}, {X: middle - 11, Y: y + 21}}, "F")
	const room, big = CardWidthMm/2 - 18, 9.0
	word := strings.ToUpper(c.Arrow)
	em := s.fit(word, big, room, letters.Bold)
	s.line(word, middle-15-s.widthMm(word, em, letters.Bold), y+16, em, letters.Bold)
	s.line(fmt.Sprintf("card %d", c.Number), middle+15, y+16, big, letters.Regular)
}

// field draws the squares and dots of a pattern with the field's corner at (x, y).
func (s *Sheets) field(f card.Family, number int, x, y float64) {
	s.pdf.SetFillColor(0, 0, 0)
	for _, c := range f.DarkCells() {
		s.pdf.Rect(x+float64(c.T)*f.SquareMm, y+float64(c.R)*f.SquareMm, f.SquareMm, f.SquareMm, "F")
	}
	for _, c := range f.LightCells() {
		if f.Dot(number, c) {
			s.pdf.Circle(x+(float64(c.T)+0.5)*f.SquareMm, y+(float64(c.R)+0.5)*f.SquareMm, f.DotMm/2, "F")
		}
	}
}

// panel has the jacket's number between two codes that say it, or a line to
// write it on.
func (s *Sheets) panel(c CardPrint, x, y float64) {
	middle := x + CardWidthMm/2
	s.centred("jacket", middle, y+12, 5, letters.Regular)
	if c.Jacket == "" {
		s.rule(x+FieldLeftMm, y+34, x+CardWidthMm-FieldLeftMm, y+34, 0.4)
		return
	}
	for _, at := range card.CodesAtMm {
		s.codeOf(c.Jacket, x+FieldLeftMm+at[0], y-panelDown+FieldTopMm+at[1], card.CodeMm)
	}
	em := s.fit(c.Jacket, 22, CardWidthMm-2*card.CodeMm-4, letters.Bold)
	s.centred(c.Jacket, middle, y+22+0.365*em, em, letters.Bold)
}

// instructions stand on the sheet beside the card and are cut off.
func (s *Sheets) instructions(c CardPrint, x, y float64) {
	s.numbered(x, y, CardWidthMm,
		"Print at actual size (100 %, no fitting to the page) on matt paper.",
		fmt.Sprintf("Measure the line with a steel rule to a quarter of a millimetre. Write it into season.toml at card %d: check_line_mm = 100.0", c.Number),
		"Cut at the corner marks. Glue the card onto stiff board, or laminate it in matt film: gloss hides squares in the sun.",
		"Lay it flat, face up, close beside the bone, level with the top of the bone. Turn the arrow towards: "+c.Arrow+".",
		"Keep the squares clean and the whole card in the picture. It is read where the picture shows up to 2 m across; the number's codes from half as far.",
	)
}

// numbered writes numbered instructions from (x, y) down, wide mm wide.
func (s *Sheets) numbered(x, y, wide float64, texts ...string) {
	const em = 3.8
	for i, text := range texts {
		s.line(fmt.Sprint(i+1), x, y, em, letters.Bold)
		for _, line := range s.wrap(text, em, wide-8, letters.Regular) {
			s.line(line, x+8, y, em, letters.Regular)
			y += 1.35 * em
		}
		y += 1.2
	}
}

func (s *Sheets) centred(text string, x, y, em float64, w letters.Weight) {
	s.line(text, x-s.widthMm(text, em, w)/2, y, em, w)
}
