package sheet

import (
	"bytes"
	"image"
	"math"
	"strconv"
	"strings"
	"testing"

	"fieldjacket/calibrate/card"
)

const dpi = 300 // of cards and tiles, which are drawn whole

// isDark tells whether the page is dark at a place in mm.
func isDark(page *image.Gray, xMm, yMm float64) bool {
	return page.GrayAt(int(xMm/25.4*dpi), int(yMm/25.4*dpi)).Y < 128
}

// lineMm is the length of the line at a height of the page, in mm, between two places.
func lineMm(page *image.Gray, yMm, fromMm, toMm float64) float64 {
	first, last := black(page, int(math.Round(yMm/25.4*dpi)), int(fromMm/25.4*dpi), int(toMm/25.4*dpi))
	return float64(last-first+1)*25.4/dpi - 0.2
}

// TestCardIsTrueToSize has poppler draw a card at 300 dpi on both papers, and
// holds every square, dot and the check line to its place in mm.
func TestCardIsTrueToSize(t *testing.T) {
	const number = 5
	for _, paper := range []Paper{A4, Letter} {
		var pdf bytes.Buffer
		if err := WriteCards(&pdf, paper, []CardPrint{{Number: number, Arrow: "north", Jacket: "VC 14"}}); err != nil {
			t.Fatal(err)
		}
		page := drawn(t, pdf.Bytes(), "-r", strconv.Itoa(dpi))[0]
		left := (paper.WidthMm - CardWidthMm) / 2
		for r := range card.Cards.Rows {
			for c := range card.Cards.Columns {
				at := card.Cell{T: c, R: r}
				x, y := FieldLeftMm+12*float64(c), FieldTopMm+12*float64(r)
				for _, p := range []struct {
					dx, dy float64
					dark   bool
				}{
					{0.3, 0.3, at.Dark()}, {11.7, 0.3, at.Dark()}, {0.3, 11.7, at.Dark()}, {11.7, 11.7, at.Dark()},
					{6, 6, at.Dark() || card.Cards.Dot(number, at)},
					{6, 6 - 2.4, at.Dark() || card.Cards.Dot(number, at)}, {6, 6 - 2.8, at.Dark()}, // a dot is 5.2 mm across
				} {
					if isDark(page, left+x+p.dx, CardTopMm+y+p.dy) != p.dark {
						t.Errorf("%s: square %v at (%g, %g) mm: dark %v", paper.Name, at, p.dx, p.dy, !p.dark)
					}
				}
			}
		}
		if long := lineMm(page, CardTopMm+checkDown, left, left+CardWidthMm); math.Abs(long-100) > 0.12 {
			t.Errorf("%s: the check line is %.3f mm long", paper.Name, long)
		}
	}
}

func TestCardRefuses(t *testing.T) {
	for want, c := range map[string]CardPrint{
		"want 1 to 32":                {Number: 33, Arrow: "north"},
		"want 1 to 16":                {Number: 1},
		"want 1 to 24":                {Number: 1, Arrow: "north", Jacket: strings.Repeat("7", 25)},
		"no font here has the letter": {Number: 1, Arrow: "north", Jacket: "\U0001F9B4"},
	} {
		if err := WriteCards(&bytes.Buffer{}, A4, []CardPrint{c}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", c, err, want)
		}
	}
}
