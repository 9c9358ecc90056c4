package sheet

import (
	"bytes"
	"strings"
	"testing"

	"fieldjacket/calibrate/placard"
)

// TestPlacardModules are 3 mm at least on a whole sheet, whatever the number
// in capitals.
func TestPlacardModules(t *testing.T) {
	for _, jacket := range []string{"14", strings.Repeat("W", placard.MostLetters)} {
		modules, err := placard.Draw(jacket)
		if err != nil {
			t.Fatal(err)
		}
		if mm := A4.HeightMm * placardShare / 2 / float64(len(modules)+2*placard.QuietModules); mm < 3 {
			t.Errorf("%s: modules of %.2f mm", jacket, mm)
		}
	}
}

func TestPlacardRefuses(t *testing.T) {
	for want, c := range map[string]struct {
		size    PlacardSize
		jackets []string
	}{
		"no jacket named":      {PlacardFull, nil},
		"want 1 to 24":         {PlacardFull, []string{"14", ""}},
		"want label, half":     {"A0", []string{"14"}},
		"no space before":      {PlacardFull, []string{" 14"}},
		"cannot be printed":    {PlacardFull, []string{"1\n4"}},
		"no font here has the": {PlacardFull, []string{"\U0001F9B4"}},
	} {
		if err := WritePlacards(&bytes.Buffer{}, A4, c.size, c.jackets); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want %q", c, err, want)
		}
	}
}
