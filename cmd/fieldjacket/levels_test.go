package main

import (
	"bytes"
	"encoding/json"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
)

// twoLevels writes a photo of a board on the ground and a bar of ten square
// blocks of 1 cm on a stand above it, and gives how far the board's plane lies
// behind the bar's.
func twoLevels(t *testing.T, path string) (depthCm float64) {
	t.Helper()
	truth := shoot(t, path, scene.Scene{
		Seed:   5,
		Ground: scene.Ground{RoughCm: 0.6},
		Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26.3, DistanceCm: 55, TiltDeg: 9, HeadingDeg: 40},
		Checkers: []scene.Checker{
			{Pose: scene.Pose{XCm: -8, YCm: 2, ZCm: 1, TurnDeg: 15}, Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3},
			{Pose: scene.Pose{XCm: 9, YCm: -3, ZCm: 9.5, TurnDeg: -50}, Across: 10, Down: 2, SquareCm: 1, MarginCm: 1, ThickCm: 0.3},
		},
	})
	return truth.Planes[0].DistanceCm() - truth.Planes[1].DistanceCm()
}

// leveled is the part of an answer that speaks of levels.
type leveled struct {
	Status     string
	Reason     string
	References []struct{ Status string }
	Levels     []struct {
		Of, Behind string
		DepthCm    calibrate.Quantity `json:"depth_cm"`
	}
}

// holds fails unless there is one depth, near the truth.
func (l leveled) holds(t *testing.T, depthCm float64) {
	t.Helper()
	if len(l.Levels) != 1 || l.Levels[0].Of != "checker 7x5/2cm" || l.Levels[0].Behind != "bar 10cm/1cm" {
		t.Fatalf("levels %+v, want the board behind the bar", l.Levels)
	}
	q := l.Levels[0].DepthCm
	t.Logf("depth %s cm, true %.2f", q, depthCm)
	if miss := math.Abs(q.Value - depthCm); !(miss <= q.U) || q.U > 4 {
		t.Errorf("depth %s cm, true %.2f: want it within U, and U at most 4", q, depthCm)
	}
}

// TestTwoReferences: a board and a bar at two levels are both scaled, and the
// depth between them is found, by scale, by run and in the record; sizes that
// no depth explains are refused, both named.
func TestTwoReferences(t *testing.T) {
	dir := t.TempDir()
	photo := filepath.Join(dir, "IMG_0001.JPG")
	depth := twoLevels(t, photo)

	code, out := fieldjacket("scale", "--json", "--checker", "7x5/2cm", "--bar", "10cm/1cm", photo)
	var got leveled
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitDone || got.Status != "scaled" || len(got.References) != 2 {
		t.Fatalf("exit %d, %v: %s", code, err, out)
	}
	got.holds(t, depth)
	if code, out := fieldjacket("scale", "--checker", "7x5/2cm", "--bar", "10cm/1cm", photo); code != exitDone || !strings.Contains(out, "cm below bar 10cm/1cm") || !strings.Contains(out, "half round") {
		t.Errorf("exit %d, words: %s", code, out)
	}

	code, out = fieldjacket("scale", "--json", "--checker", "7x5/2cm", "--bar", "60cm/6cm", photo)
	got = leveled{}
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitPerson || got.Status != "refused" || len(got.Levels) != 0 ||
		!strings.Contains(got.Reason, "checker 7x5/2cm") || !strings.Contains(got.Reason, "bar 60cm/6cm") {
		t.Errorf("a contradiction: exit %d, %v: %s", code, err, out)
	}

	if code, out := fieldjacket("measure", "--checker", "7x5/2cm", "--bar", "10cm/1cm", "--segment", "1,1,9,9", photo); code != exitUsage || !strings.Contains(out, "the one reference to measure on") {
		t.Errorf("measuring on two: exit %d, %s", code, out)
	}

	season := newSmallSeason(t, filepath.Join(dir, "season"), map[string]string{
		"season.toml": "name = \"invented\"\n[[reference]]\nname = \"board\"\nkind = \"checker\"\nsquares = \"7x5\"\nsquare_cm = 2\n" +
			"[[reference]]\nname = \"bar\"\nkind = \"bar\"\nlength_cm = 10\nblock_cm = 1\n",
	})
	if err := os.Rename(photo, season.photo("IMG_0001.JPG")); err != nil {
		t.Fatal(err)
	}
	_, out = fieldjacket("run", "--json", season.dir)
	got = leveled{}
	if err := json.Unmarshal([]byte(strings.SplitN(out, "\n", 2)[0]), &got); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	got.holds(t, depth)
	kept := season.records(t)["IMG_0001.JPG"]
	if kept == nil {
		t.Fatal("no record is kept")
	}
	text, err := json.Marshal(kept)
	got = leveled{}
	if err != nil || json.Unmarshal(text, &got) != nil {
		t.Fatalf("%v: %s", err, text)
	}
	got.holds(t, depth)
}

// TestOverlayBeside: an overlay is a picture beside the photo, which may be
// written again; a refusal has one too; a photo is never written over.
func TestOverlayBeside(t *testing.T) {
	dir := t.TempDir()
	photo := filepath.Join(dir, "IMG_0001.JPG")
	twoLevels(t, photo)
	before, err := os.ReadFile(photo)
	if err != nil {
		t.Fatal(err)
	}
	overlay := filepath.Join(dir, "seen.jpg")
	for _, c := range []struct {
		want int
		args []string
	}{
		{exitDone, []string{"scale", "--checker", "7x5/2cm", "--bar", "10cm/1cm", "--overlay", overlay, photo}},
		{exitPerson, []string{"scale", "--grid", "10cm", "--overlay", overlay, photo}}, // refused, and drawn over the last
		{exitDone, []string{"measure", "--points=100,100,500,100=6cm", "--segment", "1,1,90,90", "--overlay", overlay, photo}},
	} {
		if code, out := fieldjacket(c.args...); code != c.want {
			t.Fatalf("%q: exit %d, want %d: %s", c.args, code, c.want, out)
		}
		drawn, err := os.ReadFile(overlay)
		if err != nil {
			t.Fatal(err)
		}
		at, err := jpeg.DecodeConfig(bytes.NewReader(drawn))
		if err != nil || at.Width < 1600 || !look.IsOverlay(drawn) {
			t.Errorf("%q: overlay %v, %v", c.args, at, err)
		}
	}
	other := filepath.Join(dir, "IMG_0002.JPG")
	if err := os.WriteFile(other, before, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, to := range []string{photo, other, filepath.Join(dir, "none", "a.jpg"), filepath.Join(dir, "a.png")} {
		if code, out := fieldjacket("scale", "--checker", "7x5/2cm", "--overlay", to, photo); code != exitUsage || !strings.Contains(out, filepath.Dir(to)) {
			t.Errorf("overlay to %s: exit %d, want %d: %s", to, code, exitUsage, out)
		}
	}
	for _, path := range []string{photo, other} {
		if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
			t.Errorf("%s was changed, %v", path, err)
		}
	}
}
