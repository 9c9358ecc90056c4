package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/card"
)

// TestCardIsTrueToSize has poppler draw a card at 300 dpi on both papers, and
// holds every square, dot and the check line to its place in mm.
func TestCardIsTrueToSize(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftoppm is not installed: make test installs poppler-utils")
	}
	const dpi, number = 300, 5
	for _, paper := range []Paper{A4, Letter} {
		var pdf bytes.Buffer
		if err := WriteCards(&pdf, paper, []CardPrint{{Number: number, Arrow: "north", Jacket: "VC 14"}}); err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		file := filepath.Join(dir, "card.pdf")
		if err := os.WriteFile(file, pdf.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("pdftoppm", "-gray", "-png", "-r", "300", "-singlefile", file, filepath.Join(dir, "card")).CombinedOutput(); err != nil {
			t.Fatalf("pdftoppm: %v: %s", err, out)
		}
		f, err := os.Open(filepath.Join(dir, "card.png"))
		if err != nil {
			t.Fatal(err)
		}
		page, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		left := (paper.WidthMm - CardWidthMm) / 2
		isDark := func(page image.Image, xMm, yMm float64) bool { // on the card
			x, y := int((left+xMm)/25.4*dpi), int((CardTopMm+yMm)/25.4*dpi)
			return color.GrayModel.Convert(page.At(x, y)).(color.Gray).Y < 128
		}
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
					if isDark(page, x+p.dx, y+p.dy) != p.dark {
						t.Errorf("%s: square %v at (%g, %g) mm: dark %v", paper.Name, at, p.dx, p.dy, !p.dark)
					}
				}
			}
		}
		row := int(math.Round((CardTopMm + checkDown) / 25.4 * dpi))
		first, last := black(page, row, int(left/25.4*dpi), int((left+CardWidthMm)/25.4*dpi))
		if long := float64(last-first+1)*25.4/dpi - 0.2; math.Abs(long-100) > 0.12 {
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
