package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/placard"
	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/phonefile"
)

// TestAPlacardGivesItsJacket to itself and to the photo after it in one run;
// the photo before it, and one taken long after, stay unsorted. That its
// photos were taken far from that jacket's find is told by the same run, and
// another run has nothing left to do.
func TestAPlacardGivesItsJacket(t *testing.T) {
	needsVision(t)
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"finds.csv":   "field_number,date,what,by,position,datum\n14,2026-02-11,bone,AB,,\n15,2026-02-11,rib,AB,\"-38.50000, -32.70000\",WGS84\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,found\n15,15,jacket,found\n",
		"season.toml": "name = \"invented\"\n",
	})
	want := map[string]string{"ann/IMG_0001.JPG": "", "ann/IMG_0002.JPG": "15", "ann/IMG_0003.JPG": "15", "ann/IMG_0004.JPG": ""}
	for i, clock := range []string{"10:00:00", "10:00:30", "10:00:55", "10:20:00"} {
		s := scene.Scene{
			Seed: uint64(i), Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 60, TiltDeg: 20},
			Bones:  []scene.Bone{{Kind: scene.LongBone, XCm: 14, ZCm: 2, LengthCm: 20, ThickCm: 3}},
		}
		if i == 1 {
			face, err := placard.Face("15", 8)
			if err != nil {
				t.Fatal(err)
			}
			s.Cards = []scene.Card{{Pose: scene.Pose{XCm: -8, ZCm: 2, TurnDeg: 20}, Number: 1, ThickCm: 0.1, Face: face, FacePxPerCm: 16}}
		}
		taken := at(clock)
		taken.Position = &phonefile.Fix{LatDeg: -38.5, LonDeg: -32.69, ErrM: 5}
		season.shoot(t, fmt.Sprintf("ann/IMG_%04d.JPG", 1+i), taken, s)
	}
	code, out := fieldjacket("run", season.dir)
	if far := "IMG_0002.JPG, like 1 more of that day, was taken 87"; code != exitPerson || !strings.Contains(flat(out), far) {
		t.Fatalf("run: exit %d, want %q: %s", code, far, out)
	}
	if _, again := fieldjacket("run", season.dir); !strings.Contains(again, "updated: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", again)
	}
	records := season.records(t)
	for file, r := range records {
		if got := strings.Join(r.Belongs.Jackets, "+"); got != want[file] {
			t.Errorf("%s belongs to %q, want %q: %s", file, got, want[file], r.Belongs.Reason)
		}
	}
	if len(records) != len(want) {
		t.Errorf("%d records, want %d", len(records), len(want))
	}
}

// TestTwoPhonesAnHourApart: three placards photographed at once by two phones, one of them an hour ahead. The run that sees them says
// so, with lines for season.toml, and so does check; with these lines nothing is told.
func TestTwoPhonesAnHourApart(t *testing.T) {
	needsVision(t)
	const toml = "name = \"invented\"\ntime_zone = \"-03:00\"\n"
	season := newSmallSeason(t, t.TempDir(), map[string]string{"season.toml": toml})
	for i, hour := range []string{"09:00", "10:10", "11:40"} {
		face, err := placard.Face(fmt.Sprint(14+i), 8)
		if err != nil {
			t.Fatal(err)
		}
		s := scene.Scene{
			Seed: uint64(i), Camera: scene.Camera{WidthPx: 800, HeightPx: 600, Focal35Mm: 26, DistanceCm: 40, TiltDeg: 10},
			Cards: []scene.Card{{Pose: scene.Pose{ZCm: 2, TurnDeg: 20}, Number: 1, ThickCm: 0.1, Face: face, FacePxPerCm: 16}},
		}
		clock, err := time.Parse("15:04", hour)
		if err != nil {
			t.Fatal(err)
		}
		file := fmt.Sprintf("IMG_%04d.JPG", 1+i)
		season.shoot(t, "ann/"+file, at(hour+":00"), s)
		season.shoot(t, "bob/"+file, at(clock.Add(time.Hour+7*time.Second).Format("15:04:05")), s)
	}
	const want = "bob, Phone 3 photographed 3 of the same cards and placards as ann, Phone 3, by the clocks always some 1h later"
	for _, command := range []string{"run", "check"} {
		if _, out := fieldjacket(command, season.dir); !strings.Contains(flat(out), want) {
			t.Errorf("%s does not tell: %s", command, out)
		}
	}
	corrected := toml + "[[clock]]\nfolder = \"bob\"\nmodel = \"Phone 3\"\nahead_s = 3600\n"
	if err := os.WriteFile(filepath.Join(season.dir, "season.toml"), []byte(corrected), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"run", "check"} {
		if _, out := fieldjacket(command, season.dir); strings.Contains(flat(out), "photographed 3") {
			t.Errorf("%s, corrected, still tells: %s", command, out)
		}
	}
}
