package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
)

// TestTilesNameTheSquares in a run: from four sides every square has its own name, by the tiles at the frame's corners
// alone, without a row on the set-up or a word of a person; of a mirrored photo, and where two tiles are swapped, none has.
func TestTilesNameTheSquares(t *testing.T) {
	needsVision(t)
	s := newSeasonOfStrings(t, "7x6,")
	toml := "name = \"invented\"\n[[reference]]\nname = \"strings\"\nkind = \"grid\"\npitch_cm = 10\ncells = \"7x6\"\ntiles = true\n"
	if err := os.WriteFile(filepath.Join(s.dir, "season.toml"), []byte(toml), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(s.dir, "setups.csv")); err != nil {
		t.Fatal(err)
	}
	tiled := func(headingDeg float64, order [4]int) scene.Scene {
		in := cardAtCorner(headingDeg, 0, 0)
		in.Cards = nil
		in.Camera.WidthPx, in.Camera.HeightPx = 2016, 1512
		in.Grids[0].Timber = nil // a string beside pale wood answers less than the others, which may be refused
		in.Grids[0].Tiles = &scene.Tiles{Order: order, InCm: 3.6, BelowCm: 0.5, OffCm: 0.2, LeanDeg: 1, AskewDeg: 1}
		return in
	}
	for side := range 4 {
		s.grid(t, fmt.Sprintf("IMG_%04d.JPG", side), tiled(90*float64(side), [4]int{1, 2, 3, 4}), false)
	}
	s.grid(t, "flipped.JPG", tiled(0, [4]int{1, 2, 3, 4}), true)
	s.grid(t, "swapped.JPG", tiled(0, [4]int{1, 2, 4, 3}), false)
	for file, r := range s.run(t) {
		p := r.Plates[0].Made
		named := namesIn(t, file, p, s.truth[file])
		said := strings.Join(append(rowsOf(p, "squares"), rowsOf(p, "mirrored")...), "; ")
		t.Logf("%s: %d names, squares %q, %s", file, len(named), said, p.Headline)
		switch want := map[string]string{"flipped.JPG": "the photo is mirrored", "swapped.JPG": "do not stand at the corners of one frame"}[filepath.Base(file)]; {
		case want != "" && (len(named) > 0 || !strings.Contains(said, want)):
			t.Errorf("%s: %v named, squares %q, want %q", file, named, said, want)
		case want == "" && (len(named) != 13 || !strings.HasPrefix(said, "named from the tiles at the frame's corners")):
			t.Errorf("%s: %v named, squares %q", file, named, said)
		}
		if marked := strings.HasPrefix(p.Stamp, "MIRRORED PHOTO"); marked != (filepath.Base(file) == "flipped.JPG") {
			t.Errorf("%s: stamp %q", file, p.Stamp)
		}
	}
}
