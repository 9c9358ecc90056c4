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

// TestAReferenceSetByHand: a board or bar that the season does not carry is
// not found; where a person puts its corners or ends and says its size, the
// plate has its scale, says who set it, and goes back to NO SCALE by undo.
func TestAReferenceSetByHand(t *testing.T) {
	s := scene.Scene{
		Ground: scene.Ground{RoughCm: 1},
		Camera: scene.Camera{WidthPx: 1200, HeightPx: 900, Focal35Mm: 26, DistanceCm: 50, TiltDeg: 12, HeadingDeg: 30},
	}
	board, bar := s, s
	board.Checkers = []scene.Checker{{Pose: scene.Pose{ZCm: 2, TurnDeg: 10}, Across: 8, Down: 6, SquareCm: 2.5, MarginCm: 1, ThickCm: 0.3}}
	bar.Bars = []scene.Bar{{Pose: scene.Pose{ZCm: 2, TurnDeg: 10}, LengthCm: 10, BlockCm: 1, HighCm: 0.6, Rows: 2, MarginCm: 1, ThickCm: 0.3}}
	t.Run("board", func(t *testing.T) {
		setByHand(t, board, "checker 8x6/2.5cm", [][2]float64{{-7.5, -5}, {7.5, -5}, {7.5, 5}, {-7.5, 5}}) // outermost inner corners
	})
	t.Run("bar", func(t *testing.T) { setByHand(t, bar, "bar 10cm/1cm", [][2]float64{{-5, 0}, {5, 0}}) })
}

func setByHand(t *testing.T, s scene.Scene, said string, places [][2]float64) {
	needsVision(t)
	season := newSmallSeason(t, t.TempDir(), map[string]string{
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n",
		"season.toml": "name = \"invented\"\n[[reference]]\nname = \"grid\"\nkind = \"grid\"\npitch_cm = 10\n",
	})
	const name = "ann/jacket 14/gridded/IMG_0001.JPG"
	season.shoot(t, name, at("10:00:00"), s)
	dir, truth := season.dir, season.truth[name]
	record := func() *record.Record { t.Helper(); return season.records(t)[name] }
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("run: exit %d: %s", code, out)
	}
	if plane, _ := record().Plane(); plane != nil {
		t.Fatal("scaled before anybody said anything")
	}
	var put []string // each put some px off
	for i, c := range places {
		p, _ := truth.Planes[0].Photo(c[0], c[1], 0)
		put = append(put, fmt.Sprintf("%.1f,%.1f", p.XPx+float64(3*i-4), p.YPx+float64(4-2*i)))
	}
	program := os.Getenv("FIELDJACKET_VISION")
	for _, c := range []struct {
		what, program string
		offRel        float64
	}{
		{"as put", filepath.Join(dir, "none"), 0.03},
		{"refined", program, 0.002},
		{"as refined before", filepath.Join(dir, "none"), 0.002},
	} {
		t.Setenv("FIELDJACKET_VISION", c.program)
		value := said + " picked 4px at " + strings.Join(put, " ")
		if code, out := fieldjacket("say", dir, "--by", "AB", "photo "+name, "reference", value); code != 0 {
			t.Fatalf("say: exit %d: %s", code, out)
		}
		fieldjacket("run", dir)
		r := record()
		plane, sighting := r.Plane()
		if plane == nil {
			t.Fatalf("%s: not scaled: %+v", c.what, r.Sightings)
		}
		level, err := plane.At(0)
		if err != nil {
			t.Fatal(err)
		}
		got, err := level.ScalePxPerCm(plane.MiddleCm())
		if err != nil {
			t.Fatal(err)
		}
		want := truth.Planes[0].ScalePxPerCm(0, 0, 0)
		if off := math.Abs(got.Value/want - 1); off > c.offRel || math.Abs(got.Value-want) > got.U {
			t.Errorf("%s: %v px/cm, truth %.3f", c.what, got, want)
		}
		if sighting.By != "AB" || !strings.Contains(sighting.Counted, "set by hand") {
			t.Errorf("%s: %+v", c.what, sighting)
		}
	}
	t.Setenv("FIELDJACKET_VISION", program)
	if code, out := fieldjacket("say", dir, "--by", "AB", "photo "+name, "reference", ""); code != 0 {
		t.Fatalf("say nothing: exit %d: %s", code, out)
	}
	fieldjacket("run", dir)
	if plane, _ := record().Plane(); plane != nil {
		t.Error("still scaled after the word was taken back")
	}
}
