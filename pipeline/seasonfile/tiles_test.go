package seasonfile

import (
	"fmt"
	"strings"
	"testing"
)

// A grid's frame may carry tiles; where they lie is said only where they do.
func TestTilesOfAGrid(t *testing.T) {
	for text, want := range map[string]string{
		"":                                 "none",
		"tiles = false":                    "none",
		"tiles = true":                     "3.6",
		"tiles = true\ntiles_in_cm = -4.5": "-4.5",
		"tiles_in_cm = 3.6":                "tiles_in_cm without tiles = true",
		"tiles = true\ntiles_in_cm = 51":   "want -50 to 50",
		"tiles = false\ntiles_in_cm = 3.6": "tiles_in_cm without tiles = true",
	} {
		season, problems, err := parse([]byte("name = \"x\"\n[[reference]]\nkind = \"grid\"\npitch_cm = 10\n" + text + "\n"))
		if err != nil {
			t.Fatal(err)
		}
		got := "none"
		switch {
		case len(problems) > 0:
			got = problems[0].Error()
		case season.References[0].TilesInCm != nil:
			got = fmt.Sprint(*season.References[0].TilesInCm)
		}
		if !strings.Contains(got, want) {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}
