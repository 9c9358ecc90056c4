package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/record"
)

// Places from which one laid grid is photographed: above, aside and lower, from the next side.
var layingPlaces = []struct{ tiltDeg, headingDeg, farCm float64 }{{3, 20, 125}, {24, 20, 118}, {24, 110, 118}}

// layingShot photographs the bone of [strungBone], whose crest lies 9 cm below the strings, from one of the places.
func layingShot(t *testing.T, s smallSeason, n int, alter func(*scene.Scene)) (file string) {
	t.Helper()
	place := layingPlaces[n]
	in, _ := strungBone(38, 9, place.tiltDeg, place.headingDeg)
	in.Camera.DistanceCm = place.farCm
	if alter != nil {
		alter(&in)
	}
	file = fmt.Sprintf("ann/jacket 14/gridded/IMG_%04d.JPG", n+1)
	in.Camera.WidthPx, in.Camera.HeightPx = 1760, 1320
	in.Bones[0].Weathering = 0.6
	s.shoot(t, file, at(fmt.Sprintf("10:00:%02d", 20*n)), in)
	return file
}

// layingSeason is a season of one jacket and one set-up, with nothing told of the depth.
func layingSeason(t *testing.T) smallSeason {
	return newSmallSeason(t, t.TempDir(), map[string]string{
		"finds.csv":   "field_number,date,what,by,end_a,end_b\n14,2026-02-11,bone,AB,proximal,distal\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n",
		"setups.csv":  "setup,jackets,pitch_cm,squares\nS1,14,10,7x6\n",
		"season.toml": "name = \"invented\"\n[[reference]]\nname = \"strings\"\nkind = \"grid\"\npitch_cm = 10\n",
	})
}

// depthKept is what the season's run measured of the only set that there is.
func depthKept(t *testing.T, s smallSeason) (d *record.Depth) {
	t.Helper()
	for _, r := range s.records(t) {
		if r.Keys["depth"] == "" {
			continue
		}
		kept, err := record.LoadDepth(filepath.Join(s.dir, "paper"), r.Name())
		if err != nil || kept == nil || d != nil {
			t.Fatalf("%s: %v, %v", r.Photo.File, kept, err)
		}
		d = kept
	}
	return d
}

// TestRunMeasuresOneLaying: a run finds photos of one laid grid by itself: one tells nothing and check asks for another, two hold
// if the frame did not move, three hold; what they measured is kept, drawn and measured by; a rerun does nothing.
func TestRunMeasuresOneLaying(t *testing.T) {
	needsVision(t)
	s := layingSeason(t)
	run := func() string {
		code, out := fieldjacket("run", s.dir)
		if code != exitPerson && code != exitDone {
			t.Fatalf("exit %d: %s", code, out)
		}
		return strings.Join(strings.Fields(out), " ")
	}
	check := func() string {
		_, out := fieldjacket("check", s.dir)
		return strings.Join(strings.Fields(out), " ")
	}
	first := layingShot(t, s, 0, nil)
	run()
	if d := depthKept(t, s); d != nil || !strings.Contains(check(), "depth can be measured: set-up S1, jacket 14: one photo more from the side") {
		t.Fatalf("one photo alone: %+v; %s", d, check())
	}
	layingShot(t, s, 1, nil)
	run()
	for _, r := range s.records(t) {
		if plane, _ := r.Plane(); plane == nil {
			t.Fatalf("%s has no scale: %+v", r.Photo.File, r.Sightings)
		}
	}
	if d := depthKept(t, s); d == nil || d.Depths == nil || !d.Depths.IfUnmoved || !strings.Contains(check(), "yes, measured from 2 photos, if the frame did not move") {
		t.Fatalf("two photos: %s", check())
	}
	third := layingShot(t, s, 2, nil)
	run()
	d := depthKept(t, s)
	if d == nil || d.Depths == nil || d.Depths.Photos != 3 || d.Depths.IfUnmoved || d.Files[0] != first || !strings.Contains(check(), "yes, measured from 3 photos") {
		t.Fatalf("three photos: %+v; %s", d, check())
	}
	truth := s.truth[first]
	in, ends := strungBone(38, 9, layingPlaces[0].tiltDeg, layingPlaces[0].headingDeg)
	off := 0
	for _, q := range truth.Planes[0].Squares(in.Relief()) { // as the frame lies, which the strings may be numbered another way round on
		near := math.Inf(1)
		for _, got := range d.Depths.Squares {
			near = min(near, math.Abs(got.BelowCm-q.DepthCm))
		}
		if near > 0.5 { // of one that the bone lies in the median is another than the mean
			off++
		}
	}
	if off > 4 || len(d.Depths.Squares) < 36 {
		t.Errorf("%d of 42 squares are measured, %d true depths are not among them", len(d.Depths.Squares), off)
	}
	words := "# what people said\n"
	for k, p := range ends(truth) {
		words += fmt.Sprintf("2026-02-12T19:40:%02d-03:00\tRKA\tphoto %s\tend %d\t%.0f,%.0f\n", k, first, k+1, p.XPx, p.YPx)
	}
	if err := os.WriteFile(filepath.Join(s.dir, "words.log"), []byte(words), 0o644); err != nil {
		t.Fatal(err)
	}
	before := d.Key
	if out := run(); depthKept(t, s).Key != before {
		t.Errorf("a word on a photo measured the depth anew: %s", out)
	}
	if reliefs, err := filepath.Glob(filepath.Join(s.dir, "paper", "plates", "14", "*-relief_*.jpg")); err != nil || len(reliefs) != 1 || !strings.Contains(reliefs[0], "IMG_0001") {
		t.Errorf("relief plates %v", reliefs)
	}
	_, out := fieldjacket("run", "--json", s.dir)
	if !strings.Contains(out, "cm along the bone (") || !strings.Contains(out, "cm below the strings, from 3 photos)") {
		t.Errorf("no length along the bone: %s", out)
	}
	if out := run(); !strings.Contains(out, "updated: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a rerun: %s", out)
	}
	if err := os.Remove(s.photo(third)); err != nil {
		t.Fatal(err)
	}
	if code, out := fieldjacket("run", "--photos-gone", s.dir); code != exitPerson && code != exitDone {
		t.Fatalf("exit %d: %s", code, out)
	}
	if d := depthKept(t, s); d == nil || d.Depths == nil || !d.Depths.IfUnmoved {
		t.Errorf("without the third photo: %+v", d)
	}
}

// TestRunRefusesWhatMoved: a frame that moved across between the photos tells no depth, and check says why.
func TestRunRefusesWhatMoved(t *testing.T) {
	needsVision(t)
	s := layingSeason(t)
	layingShot(t, s, 0, nil)
	layingShot(t, s, 1, nil)
	layingShot(t, s, 2, func(in *scene.Scene) { in.Grids[0].XCm += 1.2; in.Grids[0].YCm += 0.9 })
	if code, out := fieldjacket("run", s.dir); code != exitPerson && code != exitDone {
		t.Fatalf("exit %d: %s", code, out)
	}
	d := depthKept(t, s)
	_, out := fieldjacket("check", s.dir)
	if d == nil || d.Depths != nil && d.Depths.Photos == 3 || strings.Contains(out, "measured from 3 photos") {
		t.Fatalf("%+v; %s", d, out)
	}
	t.Logf("%v, %s", d.Refused, out)
}
