package sheet

import (
	"bytes"
	"math"
	"strconv"
	"testing"

	"fieldjacket/calibrate/card"
)

// TestTilesAreTrueToSize has poppler draw the tiles at 300 dpi on both papers,
// and holds every square, dot and the check line to its place in mm.
func TestTilesAreTrueToSize(t *testing.T) {
	for _, paper := range []Paper{A4, Letter} {
		var pdf bytes.Buffer
		if err := WriteTiles(&pdf, paper); err != nil {
			t.Fatal(err)
		}
		page := drawn(t, pdf.Bytes(), "-r", strconv.Itoa(dpi))[0]
		for number := 1; number <= 4; number++ {
			left, top := TilePlace(paper, number)
			for r := range 7 {
				for c := range 7 {
					at := card.Cell{T: c, R: r}
					dot := at.Dark() || card.Tiles.Dot(number, at)
					for _, p := range []struct {
						dx, dy float64
						dark   bool
					}{{0.3, 0.3, at.Dark()}, {8.7, 0.3, at.Dark()}, {0.3, 8.7, at.Dark()}, {8.7, 8.7, at.Dark()}, {4.5, 4.5, dot}, {4.5, 4.5 - 1.8, dot}, {4.5, 4.5 - 2.2, at.Dark()}} {
						if isDark(page, left+4.5+9*float64(c)+p.dx, top+4.5+9*float64(r)+p.dy) != p.dark {
							t.Errorf("%s, tile %d: square %v at (%g, %g) mm: dark %v", paper.Name, number, at, p.dx, p.dy, !p.dark)
						}
					}
				}
			}
			for k := range 40 { // the white about the field, of half a square
				along := 0.3 + float64(k)*71.4/39
				for _, p := range [4][2]float64{{along, 1}, {along, 71}, {1, along}, {71, along}} {
					if isDark(page, left+p[0], top+p[1]) {
						t.Errorf("%s, tile %d: dark at (%.1f, %.1f) mm, beside the field", paper.Name, number, p[0], p[1])
					}
				}
			}
		}
		left, top := TilePlace(paper, card.NumbersEnd)
		if long := lineMm(page, top+TileMm+TileNameMm+7, left, left+2*TileMm+tilesApart); math.Abs(long-100) > 0.12 {
			t.Errorf("%s: the check line is %.3f mm long", paper.Name, long)
		}
	}
}
