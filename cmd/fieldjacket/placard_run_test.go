package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline"
	"fieldjacket/pipeline/register"
)

// TestAPlacardGivesItsJacket to itself and to the photo after it in one run;
// the photo before it, and one taken long after, stay unsorted. That its
// photos were taken far from that jacket's find is told by the same run, and
// another run has nothing left to do.
func TestAPlacardGivesItsJacket(t *testing.T) {
	needsVision(t)
	dir := t.TempDir()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(register.Template(dir, true))
	must(os.WriteFile(filepath.Join(dir, "finds.csv"), []byte("field_number,date,what,by,position,datum\n14,2026-02-11,bone,AB,,\n15,2026-02-11,rib,AB,\"-38.50000, -68.70000\",WGS84\n"), 0o644))
	must(os.WriteFile(filepath.Join(dir, "jackets.csv"), []byte("jacket,finds,kind,stage\n14,14,jacket,found\n15,15,jacket,found\n"), 0o644))
	must(os.WriteFile(filepath.Join(dir, "season.toml"), []byte("name = \"invented\"\n"), 0o644))
	must(os.MkdirAll(filepath.Join(dir, "photos", "ann"), 0o755))
	want := map[string]string{"IMG_0001.JPG": "", "IMG_0002.JPG": "15", "IMG_0003.JPG": "15", "IMG_0004.JPG": ""}
	for i, at := range []string{"10:00:00", "10:00:30", "10:00:55", "10:20:00"} {
		s := scene.Scene{
			Seed: uint64(i), Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 60, TiltDeg: 20},
			Bones:  []scene.Bone{{Kind: scene.LongBone, XCm: 14, ZCm: 2, LengthCm: 20, ThickCm: 3}},
		}
		if i == 1 {
			face, err := placard.Face("15", 8)
			must(err)
			s.Cards = []scene.Card{{Pose: scene.Pose{XCm: -8, ZCm: 2, TurnDeg: 20}, Number: 1, ThickCm: 0.1, Face: face, FacePxPerCm: 16}}
		}
		picture, _ := s.Render()
		var b bytes.Buffer
		must(scene.WritePhoto(&b, picture, 90, scene.Tags{Make: "Anvil", Model: "Ridge 3", Local: "2026:02:11 " + at, Offset: "-03:00", Focal35Mm: 26,
			Position: &scene.Fix{LatDeg: -38.5, LonDeg: -68.69, ErrM: 5}}))
		must(os.WriteFile(filepath.Join(dir, "photos", "ann", "IMG_000"+string(rune('1'+i))+".JPG"), b.Bytes(), 0o644))
	}
	code, out := fieldjacket("run", dir)
	if far := "IMG_0002.JPG, like 1 more of that day, was taken 87"; code != exitPerson || !strings.Contains(out, far) {
		t.Fatalf("run: exit %d, want %q: %s", code, far, out)
	}
	if _, again := fieldjacket("run", dir); !strings.Contains(again, "done anew: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", again)
	}
	names, err := filepath.Glob(filepath.Join(dir, "paper", "records", "*.json"))
	must(err)
	seen := 0
	for _, n := range names {
		if strings.HasSuffix(n, ".marks.json") {
			continue
		}
		var r pipeline.Record
		text, err := os.ReadFile(n)
		must(err)
		must(json.Unmarshal(text, &r))
		if r.Photo.File == "" {
			continue // what is kept of the tracks
		}
		seen++
		name := filepath.Base(r.Photo.File)
		if got := strings.Join(r.Belongs.Jackets, "+"); got != want[name] {
			t.Errorf("%s belongs to %q, want %q: %s", name, got, want[name], r.Belongs.Reason)
		}
	}
	if seen != len(want) {
		t.Errorf("%d records, want %d", seen, len(want))
	}
}

// TestTwoPhonesAnHourApart: three placards photographed at once by two phones, one of them an hour ahead. The run that sees them says
// so, with lines for season.toml, and so does check; with these lines nothing is told.
func TestTwoPhonesAnHourApart(t *testing.T) {
	needsVision(t)
	dir := t.TempDir()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(register.Template(dir, true))
	const toml = "name = \"invented\"\ntime_zone = \"-03:00\"\n"
	must(os.WriteFile(filepath.Join(dir, "season.toml"), []byte(toml), 0o644))
	for i, at := range []string{"09:00", "10:10", "11:40"} {
		face, err := placard.Face(fmt.Sprint(14+i), 8)
		must(err)
		s := scene.Scene{
			Seed: uint64(i), Camera: scene.Camera{WidthPx: 800, HeightPx: 600, Focal35Mm: 26, DistanceCm: 40, TiltDeg: 10},
			Cards: []scene.Card{{Pose: scene.Pose{ZCm: 2, TurnDeg: 20}, Number: 1, ThickCm: 0.1, Face: face, FacePxPerCm: 16}},
		}
		picture, _ := s.Render()
		for _, who := range []string{"ann", "bob"} {
			tags := scene.Tags{Make: "Anvil", Model: "Ridge 3", Local: "2026:02:11 " + at + ":00", Offset: "-03:00", Focal35Mm: 26}
			if who == "bob" {
				clock, err := time.Parse("15:04", at)
				must(err)
				tags.Local = "2026:02:11 " + clock.Add(time.Hour+7*time.Second).Format("15:04:05")
			}
			var b bytes.Buffer
			must(scene.WritePhoto(&b, picture, 90, tags))
			must(os.MkdirAll(filepath.Join(dir, "photos", who), 0o755))
			must(os.WriteFile(filepath.Join(dir, "photos", who, fmt.Sprintf("IMG_%04d.JPG", 1+i)), b.Bytes(), 0o644))
		}
	}
	const want = "bob, Ridge 3 photographed 3 of the same cards and placards as ann, Ridge 3, by the clocks always some 1h0m0s later"
	for _, command := range []string{"run", "check"} {
		if _, out := fieldjacket(command, dir); !strings.Contains(out, want) {
			t.Errorf("%s does not tell: %s", command, out)
		}
	}
	must(os.WriteFile(filepath.Join(dir, "season.toml"), []byte(toml+"[[clock]]\nfolder = \"bob\"\nmodel = \"Ridge 3\"\nahead_s = 3600\n"), 0o644))
	for _, command := range []string{"run", "check"} {
		if _, out := fieldjacket(command, dir); strings.Contains(out, "photographed 3") {
			t.Errorf("%s, corrected, still tells: %s", command, out)
		}
	}
}
