package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
)

// TestARefusedPhotoIsShownWithWhatWasSeen: the page for the phones names the photo that was meant and why it has no scale, and draws what
// was seen into its picture.
func TestARefusedPhotoIsShownWithWhatWasSeen(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	season := newSmallSeason(t, dir, map[string]string{
		"season.toml": "name = \"invented\"\ntime_zone = \"-03:00\"\n[[reference]]\nname = \"bar\"\nkind = \"bar\"\nlength_cm = 10\nblock_cm = 1\n",
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n",
		"jackets.csv": "jacket,finds,stage\n14,14,mapped\n",
	})
	needsVision(t)
	season.shoot(t, "ann/jacket 14/gridded/IMG_0001.JPG", at("10:00:00"), scene.Scene{Seed: 3, Ground: scene.Ground{RoughCm: 0.4},
		Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26.2, DistanceCm: 60, TiltDeg: 8, HeadingDeg: 15},
		Bones:  []scene.Bone{{Kind: scene.LongBone, ZCm: 2, LengthCm: 40, ThickCm: 6}},
		Bars:   []scene.Bar{{Pose: scene.Pose{XCm: 2, YCm: 12, ZCm: 1, TurnDeg: 65}, LengthCm: 20, BlockCm: 1, HighCm: 1, Rows: 2, MarginCm: 0.5, ThickCm: 0.3}}})
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	page := filepath.Join(t.TempDir(), "today.html")
	if code, out := fieldjacket("check", dir, "--html", page); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"gridded not scaled", "IMG_0001.JPG: bar: 20 blocks in a row counted, but the bar has 10", "with what was seen in it drawn in", `class="seen"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %q", want)
		}
	}
	if keep := os.Getenv("FIELDJACKET_SCREENSHOTS"); keep != "" {
		if err := os.WriteFile(filepath.Join(keep, "day.html"), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
