package paperwork

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

// TestPositionIsConvertedBeside: the typed text stays as it is, with its conversion or the reason for none beside it. The grid
// values are GeoConvert's (GeographicLib 2.1.2).
func TestPositionIsConvertedBeside(t *testing.T) {
	for _, c := range []struct {
		typed, datum string
		want, never  []string
	}{
		{"-38.95000, -32.06000", "WGS84", []string{"on WGS84", "38.95000° S, 32.06000° W", "UTM zone 25 south, 581454 E 5688352 N", "MGRS 25HES8145488351, a square of 1 m"}, nil},
		{"38.95 S 32.06 W", "", []string{"if WGS84 was meant", "MGRS 25HES8188, a square of 1 km"}, []string{"on WGS84"}},
		{"25HES814883", "WGS84", []string{"38.95002° S, 32.06005° W", "to 100 m", "middle of the square", "MGRS 25HES814883, a square of 100 m"}, nil},
		{"25H 581454 5688351", "ED50", []string{"not converted", "ED50"}, []string{"°", "on WGS84"}},
		{"25S 4388929", "WGS84", []string{"not converted", "UTM needs"}, []string{"°"}},
		{"", "", nil, []string{"converted", "°"}},
	} {
		var b strings.Builder
		for _, row := range position(register.Position{Typed: c.typed, Datum: c.datum}) {
			b.WriteString(row[0] + " " + row[1] + "\n")
		}
		if !strings.Contains(b.String(), "position as typed "+c.typed) {
			t.Errorf("%q: the typed text is gone:\n%s", c.typed, b.String())
		}
		for _, want := range c.want {
			if !strings.Contains(b.String(), want) {
				t.Errorf("%q: want %q in:\n%s", c.typed, want, b.String())
			}
		}
		for _, never := range c.never {
			if strings.Contains(b.String(), never) {
				t.Errorf("%q: %q in:\n%s", c.typed, never, b.String())
			}
		}
	}
}
