package printing

import (
	"strings"
	"testing"

	"fieldjacket/overlay/sheet"
)

// What is said of a printed plate counts all pages of its file.
func TestPrintedPlateCountsItsPages(t *testing.T) {
	for _, c := range []struct {
		tiles, pages int
		want         string
	}{
		{54, 56, "54 sheets of A4, a plan of them first, the photo as taken last: 56 pages"}, {54, 55, "54 sheets of A4, a plan of them first: 55 pages"},
		{1, 2, "one sheet of A4, the photo as taken behind it: 2 pages"}, {1, 1, "one sheet of A4; print"},
	} {
		if got := laidOut(1, sheet.A4, c.tiles, c.pages); !strings.HasPrefix(got, "1:1 on "+c.want) {
			t.Errorf("%d sheets, %d pages: %q", c.tiles, c.pages, got)
		}
	}
}
