package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
)

// A snap is one photo of the trial season.
type snap struct{ file, day, clock, shows string }

// trial is a season of 25 photos: two phones, of which one names its photos by the time, three days, not quite half in folders.
func trial() (all []snap) {
	run := func(day string, files, clocks []string, shows ...string) {
		for i, what := range shows {
			all = append(all, snap{files[i], day, clocks[i], what})
		}
	}
	numbered := func(folder string, first, n int) (out []string) {
		for i := range n {
			out = append(out, fmt.Sprintf("%s/IMG_%04d.JPG", folder, first+i))
		}
		return out
	}
	timed := func(folder, day string, clocks []string) (out []string) {
		for _, c := range clocks {
			out = append(out, fmt.Sprintf("%s/PXL_%s_%s.jpg", folder, strings.ReplaceAll(day, ":", ""), strings.ReplaceAll(c, ":", "")))
		}
		return out
	}
	quick := func(hour string) (out []string) {
		for i := range 5 {
			out = append(out, fmt.Sprintf("%s:00:%02d", hour, 10*i))
		}
		return out
	}
	one, two, three := "2026:02:11", "2026:02:12", "2026:02:13"
	run(one, numbered("ann", 1, 5), quick("09"), "placard 14", "setting", "bone", "bone", "board")
	run(one, timed("bob/jacket 15", one, quick("10")), quick("10"), "setting", "bone", "bone", "board")
	run(two, numbered("ann/jacket 16", 6, 4), quick("09"), "setting", "bone", "bone", "board")
	run(two, timed("bob", two, quick("11")), quick("11"), "placard 17", "setting", "bone", "bone", "board")
	run(three, numbered("ann/jacket 16", 10, 3), quick("09"), "board", "bone", "bone")
	run(three, numbered("ann", 13, 1), quick("12"), "bone")
	run(three, timed("bob/jacket 14", three, quick("13")), quick("13"), "plaster")
	run(three, timed("bob", three, quick("18")), quick("18"), "camp", "camp")
	return all
}

// shootTrial renders the trial season.
func shootTrial(t *testing.T, season smallSeason) {
	t.Helper()
	for i, s := range trial() {
		in := scene.Scene{
			Seed: uint64(i), Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 30},
			Camera: scene.Camera{WidthPx: 800, HeightPx: 600, Focal35Mm: 26, DistanceCm: 70, TiltDeg: 12, AimXCm: float64(7 * i)},
		}
		switch what, number, _ := strings.Cut(s.shows, " "); what {
		case "placard":
			face, err := placard.Face(number, 8)
			if err != nil {
				t.Fatal(err)
			}
			in.Camera.DistanceCm, in.Camera.AimXCm = 40, 0
			in.Cards = []scene.Card{{Pose: scene.Pose{ZCm: 2, TurnDeg: 20}, Number: 1, ThickCm: 0.1, Face: face, FacePxPerCm: 16}}
		case "board":
			in.Camera.AimXCm = 0
			in.Checkers = []scene.Checker{{Pose: scene.Pose{ZCm: 2, TurnDeg: 20}, Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}}
		case "setting":
			in.Camera.DistanceCm, in.Camera.TiltDeg = 220, 35
		case "bone", "plaster":
			in.Bones = []scene.Bone{{Kind: scene.LongBone, XCm: float64(7 * i), ZCm: 2, LengthCm: 30, ThickCm: 5}}
		}
		taken := at(s.clock)
		taken.Local = s.day + " " + s.clock
		season.shoot(t, s.file, taken, in)
	}
}

// TestASeasonNeedsFewWords: six words say all that 25 photos do not say themselves; what is proposed closes no gap until a person
// confirms it, and the log then says the views themselves.
func TestASeasonNeedsFewWords(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	season := newSmallSeason(t, dir, map[string]string{
		"season.toml": "name = \"invented\"\ntime_zone = \"-03:00\"\n[[reference]]\nname = \"board\"\nkind = \"checker\"\nsquares = \"7x5\"\nsquare_cm = 2\n",
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n16,2026-02-12,rib,AB\n17,2026-02-12,tooth,AB\n",
		"jackets.csv": "jacket,finds,stage,length_cm\n14,14,mapped,40\n15,15,mapped,40\n16,16,mapped,40\n17,17,mapped,40\n",
		"diary.csv":   "date,numbers,what,by,stage\n2026-02-13,14,jacketed,AB,jacketed\n",
	})
	needsVision(t)
	shootTrial(t, season)
	if n := len(season.truth); n != 25 {
		t.Fatalf("%d photos, want 25", n)
	}
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	_, before := fieldjacket("check", dir)
	for _, want := range []string{
		"15 NOT READY: setting missing, bone missing", "16 NOT READY: setting missing, bone missing", "17 NOT READY: setting missing, bone missing", "14 INCOMPLETE: jacketed missing",
		"12 views proposed; none counts until it is confirmed", "jacket 15 (bob/jacket 15): PXL_20260211_100000.jpg setting, PXL_20260211_100010.jpg bone, PXL_20260211_100020.jpg bone",
		"jacket 14 (ann): IMG_0002.JPG setting, IMG_0003.JPG bone, IMG_0004.JPG bone", "proposed as setting, the first of its run; nobody has confirmed it",
	} {
		if !strings.Contains(flat(before), want) {
			t.Errorf("check lacks %q: %s", want, before)
		}
	}
	words := [][]string{
		{"photos */*", "view", "proposed"},
		{"jacket 15", "view", "proposed"},
		{"jacket 16", "view", "proposed"},
		{"photo ann/IMG_0013", "jackets", "14"},
		{"photo bob/jacket 14/PXL_20260213_130000.jpg", "view", "jacketed"},
		{"photos bob/PXL_20260213_180000-180010", "jackets", "none"},
	}
	for _, w := range words {
		if code, out := fieldjacket(append([]string{"say", dir, "--by", "AB"}, w...)...); code != exitDone {
			t.Fatalf("%q: exit %d: %s", w, code, out)
		}
	}
	code, after := fieldjacket("check", dir)
	if code != exitDone || !strings.Contains(after, "Jacketed (1): 14") || strings.Count(after, "ready: mapped") != 3 || strings.Contains(after, "without a jacket") || strings.Contains(after, "proposed") {
		t.Errorf("after %d words: exit %d: %s", len(words), code, after)
	}
	if code, out := fieldjacket("say", dir, "--by", "AB", "jacket 15", "view", "proposed"); code != exitUsage || !strings.Contains(out, "no view is proposed there") {
		t.Errorf("nothing is left: exit %d: %s", code, out)
	}
	if _, out := fieldjacket("say", dir); strings.Contains(out, "proposed") || !strings.Contains(out, "photo bob/jacket 15/PXL_20260211_100000.jpg, view: setting") {
		t.Errorf("the log: %s", out)
	}
}
