package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestACopiedSeasonKeepsItsPaper: a copy differs by its place, and by its files' dates and places on the disk; nothing is done anew
// for that. Nor is it where the season is named by another path.
func TestACopiedSeasonKeepsItsPaper(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	const track = `<gpx><trk><trkseg><trkpt lat="1" lon="2"><time>2026-02-11T13:00:00Z</time></trkpt></trkseg></trk></gpx>`
	if err := os.MkdirAll(filepath.Join(dir, "tracks"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "tracks", "day.gpx"), []byte(track), 0o644); err != nil {
		t.Fatal(err)
	}
	fieldjacket("run", dir)
	again := filepath.Join(t.TempDir(), "elsewhere")
	if err := os.CopyFS(again, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	for _, at := range []string{again, filepath.Dir(again) + "/./elsewhere"} {
		if _, out := fieldjacket("run", at); !strings.Contains(out, "updated: 0 photos, 0 plates, 0 packets") {
			t.Errorf("%s: %s", at, out)
		}
	}
}
