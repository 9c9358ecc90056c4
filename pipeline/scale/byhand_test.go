package scale

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/words"
)

// TestAReferencePutByHandIsHeldAgainstThePicture: squares of 5 cm seen from 80 cm look as those of 10 cm from 160; a board
// that was found from 82 cm leaves the smaller ones alone, whatever the season's own finder made of the same strings.
func TestAReferencePutByHandIsHeldAgainstThePicture(t *testing.T) {
	board, err := calibrate.ParseReference(calibrate.KindChecker, "7x5/2cm")
	if err != nil {
		t.Fatal(err)
	}
	five, err := calibrate.ParseReference(calibrate.KindGrid, "5cm")
	if err != nil {
		t.Fatal(err)
	}
	camera := calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26}
	focalPx, _, _ := camera.FocalPx()
	at := func(cm, acrossCm float64) float64 { return focalPx * cm / acrossCm }
	var marks []calibrate.Mark
	for u := range 6 {
		for v := range 4 {
			u, v := float64(u+1)*2, float64(v+1)*2
			marks = append(marks, calibrate.Mark{At: calibrate.Point{XPx: 2000 + at(u, 82), YPx: 1500 + at(v, 82)}, UCm: u, VCm: v})
		}
	}
	w, h := at(20, 80), at(15, 80)
	corners := []calibrate.Point{{XPx: 1500, YPx: 1000}, {XPx: 1500 + w, YPx: 1000}, {XPx: 1500 + w, YPx: 1000 + h}, {XPx: 1500, YPx: 1000 + h}}
	for _, c := range []struct {
		grid    string
		board   []calibrate.Mark
		refused bool
		known   calibrate.Known
	}{
		{"10cm of 4x3 cells", marks, true, ""},
		{"5cm of 4x3 cells", marks, false, calibrate.Confirmed},
		{"10cm of 4x3 cells", nil, false, calibrate.Said},
	} {
		ref, err := calibrate.ParseReference(calibrate.KindGrid, strings.Split(c.grid, " ")[0])
		if err != nil {
			t.Fatal(err)
		}
		ref.CellsAcross, ref.CellsDown = 4, 3
		said := words.PhotoAnnotations{}
		said.Reference = &words.Annotation[words.ManualReference]{Value: words.ManualReference{Reference: ref, Corners: corners}, Line: words.Line{Word: words.Word{By: "AB"}}}
		in := Input{
			Photo:   evidence.Photo{Record: &record.Record{Photo: intake.Photo{WidthPx: 4000, HeightPx: 3000}, Capture: &intake.Capture{Focal35Mm: &camera.Focal35Mm}}, Words: said},
			Carried: []calibrate.Reference{five, board},
			Found:   []look.Found{{Refused: calibrate.Refuse("", "not found")}, {Marks: c.board, Refused: calibrate.Refuse("", "not found")}},
		}
		if c.board != nil {
			in.Found[1].Refused = nil
		}
		got, _, err := Fit(in)
		if err != nil || len(got) != 1 {
			t.Fatalf("%s: %d sightings, %v", c.grid, len(got), err)
		}
		s := got[0]
		switch {
		case c.refused && (s.Plane != nil || s.Refused == nil || s.Refused.Near != calibrate.Contradicts || !strings.Contains(s.Refused.Reason, "checker")):
			t.Errorf("%s beside the board: %v, %+v", c.grid, s.Refused, s.Size)
		case !c.refused && (s.Plane == nil || s.Size.Known != c.known):
			t.Errorf("%s: refused %v, size %+v", c.grid, s.Refused, s.Size)
		}
	}
}
