package scale

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// seen is a reference seen square from distanceCm.
func seen(kind calibrate.Kind, distanceCm float64) calibrate.Sighting {
	return calibrate.Sighting{Reference: calibrate.Reference{Kind: kind, PitchCm: 10, SquaresAcross: 7, SquaresDown: 5, SquareCm: 2}, Plane: &calibrate.Plane{
		Camera:     calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26},
		Homography: [9]float64{1 / distanceCm, 0, 0, 0, 1 / distanceCm, 0, 0, 0, 1},
		Corners:    [4][2]float64{{0, 0}, {20, 0}, {20, 16}, {0, 16}},
	}}
}

// TestLevels: two levels stand, half a pitch against the other's size
// leaves neither, and a third that agrees with one of them stands.
func TestLevels(t *testing.T) {
	two := []calibrate.Sighting{seen(calibrate.KindGrid, 120), seen(calibrate.KindChecker, 130)}
	if got := levels(two); len(got) != 1 || got[0].Of != "checker 7x5/2cm" || got[0].Behind != "grid 10cm" || math.Abs(got[0].DepthCm.Value-10) > 0.01 {
		t.Errorf("levels %v, want the board 10 cm below the strings", got)
	}
	for _, s := range two {
		if s.Plane == nil {
			t.Errorf("%s at its own level was refused: %v", s.Reference, s.Refused)
		}
	}
	halved := []calibrate.Sighting{seen(calibrate.KindGrid, 260), seen(calibrate.KindChecker, 130)}
	if got := levels(halved); got != nil {
		t.Errorf("levels %v of two that contradict each other", got)
	}
	for _, s := range halved {
		if s.Plane != nil || s.Refused == nil {
			t.Fatalf("%s stands beside what contradicts it", s.Reference)
		}
		for _, name := range []string{"grid 10cm", "checker 7x5/2cm"} {
			if !strings.Contains(s.Refused.Reason, name) {
				t.Errorf("the reason does not name %s: %s", name, s.Refused.Reason)
			}
		}
	}
	blind := []calibrate.Sighting{seen(calibrate.KindGrid, 260), seen(calibrate.KindChecker, 130)}
	for i := range blind {
		blind[i].Plane.Camera.Focal35Mm = 0
	}
	_ = levels(blind)
	if blind[0].Plane == nil || blind[1].Plane == nil {
		t.Error("without a focal length nothing can be told, but something was refused")
	}
}

// TestTapedSetUp: the diagonals of the photo's set-up reach its grid, and no
// other: not that of another pitch, nor of a photo whose jackets have two
// set-ups or one that was not taped.
func TestTapedSetUp(t *testing.T) {
	cm := func(v float64) *float64 { return &v }
	sheets := &register.Register{SetUps: []register.SetUp{
		{Name: "S1", Jackets: []string{"7", "8"}, PitchCm: cm(10), Diagonal1Cm: cm(141.9), Diagonal2Cm: cm(140.6)},
		{Name: "S2", Jackets: []string{"9"}},
		{Name: "S3", Jackets: []string{"7"}, Diagonal1Cm: cm(141), Diagonal2Cm: cm(142)},
	}}
	refs := []calibrate.Reference{
		{Kind: calibrate.KindGrid, PitchCm: 10, DiagonalsCm: []float64{141.4, 141.4}},
		{Kind: calibrate.KindGrid, PitchCm: 5},
		{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1},
	}
	for _, c := range []struct {
		name      string
		belongs   assign.Belongs
		ten, five []float64
	}{
		{"no jacket", assign.Belongs{}, []float64{141.4, 141.4}, nil},
		{"its one set-up", assign.Belongs{Jackets: []string{"8"}}, []float64{141.9, 140.6}, nil},
		{"two set-ups, none named", assign.Belongs{Jackets: []string{"7"}}, []float64{141.4, 141.4}, nil},
		{"two set-ups, one named", assign.Belongs{Jackets: []string{"7"}, SetUp: "S3"}, []float64{141, 142}, []float64{141, 142}},
		{"jackets of two set-ups", assign.Belongs{Jackets: []string{"8", "9"}}, []float64{141.4, 141.4}, nil},
		{"a set-up not taped", assign.Belongs{Jackets: []string{"9"}}, []float64{141.4, 141.4}, nil},
	} {
		in := Input{Photo: evidence.Photo{Sheets: sheets, Record: &record.Record{Belongs: c.belongs}}, Carried: refs}
		got := in.laid()
		if !reflect.DeepEqual(got[0].DiagonalsCm, c.ten) || !reflect.DeepEqual(got[1].DiagonalsCm, c.five) || got[2].DiagonalsCm != nil {
			t.Errorf("%s: diagonals %v and %v, want %v and %v", c.name, got[0].DiagonalsCm, got[1].DiagonalsCm, c.ten, c.five)
		}
	}
	if !reflect.DeepEqual(refs[0].DiagonalsCm, []float64{141.4, 141.4}) {
		t.Error("the season's own reference was changed")
	}
	taped := Input{Photo: evidence.Photo{Sheets: sheets, Record: &record.Record{Belongs: assign.Belongs{Jackets: []string{"8"}}, Capture: &intake.Capture{}}}, Carried: refs}
	bare := Input{Photo: evidence.Photo{Sheets: sheets, Record: &record.Record{Belongs: assign.Belongs{Jackets: []string{"9"}}, Capture: &intake.Capture{}}}, Carried: refs}
	if keep.Hash(taped.Reads()) == keep.Hash(bare.Reads()) {
		t.Error("the key of the fit does not hold the set-up's diagonals")
	}
}

// TestPitchOfSetUp: a grid of which the photo's set-up gives another pitch is
// refused; one that was measured a little better is not, nor is a bar, nor
// where two set-ups leave it open.
func TestPitchOfSetUp(t *testing.T) {
	cm := func(v float64) *float64 { return &v }
	sheets := &register.Register{SetUps: []register.SetUp{
		{Name: "S1", Jackets: []string{"7", "8"}, PitchCm: cm(5)},
		{Name: "S2", Jackets: []string{"7", "9"}, PitchCm: cm(10)},
		{Name: "S3", Jackets: []string{"10"}},
	}}
	ten, inches := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10.05}, calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10.16}
	bar := calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1}
	for _, c := range []struct {
		name    string
		belongs assign.Belongs
		ref     calibrate.Reference
		refused bool
	}{
		{"half of it", assign.Belongs{Jackets: []string{"8"}}, ten, true},
		{"the same, measured", assign.Belongs{Jackets: []string{"9"}}, ten, false},
		{"four inches", assign.Belongs{Jackets: []string{"9"}}, inches, true},
		{"two set-ups", assign.Belongs{Jackets: []string{"7"}}, ten, false},
		{"two set-ups, one named", assign.Belongs{Jackets: []string{"7"}, SetUp: "S1"}, ten, true},
		{"no pitch recorded", assign.Belongs{Jackets: []string{"10"}}, ten, false},
		{"no jacket", assign.Belongs{}, ten, false},
		{"a bar", assign.Belongs{Jackets: []string{"8"}}, bar, false},
	} {
		p := evidence.Photo{Sheets: sheets, Record: &record.Record{Belongs: c.belongs}}
		lay := seen(c.ref.Kind, 120)
		lay.Reference = c.ref
		refused := evidence.Sizes([]evidence.Seen{{Sighting: lay}}, p.ToldOfSizes())[0].Refused
		if (refused != nil) != c.refused || refused != nil && (!strings.Contains(refused.Reason, "S") || refused.Retake == "") {
			t.Errorf("%s: refused %v, want %v", c.name, refused, c.refused)
		}
	}
	at := func(jacket string) string {
		return keep.Hash(Input{Photo: evidence.Photo{Sheets: sheets, Record: &record.Record{Belongs: assign.Belongs{Jackets: []string{jacket}}, Capture: &intake.Capture{}}}}.Reads())
	}
	if at("8") == at("9") {
		t.Error("the key of the fit does not hold the set-up's pitch")
	}
}
