package scale

import (
	"reflect"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestManualReferenceIsTheSeasonsOwn: what season.toml knows of a reference reaches one of the same kind and sizes that a
// person put by hand, and no other; a tolerance that the person gave stands.
func TestManualReferenceIsTheSeasonsOwn(t *testing.T) {
	mm, cm, own := 99.6, 0.2, 0.1
	carried := []calibrate.Reference{
		{Name: "frame", Kind: calibrate.KindGrid, PitchCm: 10, ToleranceCm: &cm, DiagonalsCm: []float64{141, 142}},
		{Name: "board", Kind: calibrate.KindChecker, SquareCm: 2, ToleranceCm: &cm},
		{Name: "bar", Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1, ToleranceCm: &cm},
		{Name: "card", Kind: calibrate.KindCard, Card: 7, CheckLineMm: &mm},
	}
	in := Input{Photo: evidence.Photo{Sheets: &register.Register{}, Record: &record.Record{}}, Carried: carried}
	for name, c := range map[string]struct {
		put  calibrate.Reference
		want string
	}{
		"the grid":          {calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, "frame"},
		"a grid of halves":  {calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 5}, ""},
		"the board":         {calibrate.Reference{Kind: calibrate.KindChecker, SquareCm: 2}, "board"},
		"a larger board":    {calibrate.Reference{Kind: calibrate.KindChecker, SquareCm: 3}, ""},
		"the bar":           {calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1}, "bar"},
		"a longer bar":      {calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 20, BlockCm: 1}, ""},
		"one of two blocks": {calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 2}, ""},
		"the card":          {calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, "card"},
		"another card":      {calibrate.Reference{Kind: calibrate.KindCard, Card: 8}, ""},
		"two points":        {calibrate.Reference{Kind: calibrate.KindPoints, LengthCm: 10}, ""},
	} {
		got := in.asCarried(c.put)
		if got.Name != c.want {
			t.Errorf("%s: taken for %q, want %q", name, got.Name, c.want)
		}
		for _, o := range carried {
			if c.want == o.Name && (got.ToleranceCm != o.ToleranceCm || got.CheckLineMm != o.CheckLineMm || !reflect.DeepEqual(got.DiagonalsCm, o.DiagonalsCm)) {
				t.Errorf("%s: %+v does not have what season.toml says of it", name, got)
			}
		}
	}
	if got := in.asCarried(calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, ToleranceCm: &own}); got.ToleranceCm != &own {
		t.Error("a person's own tolerance gave way to that of season.toml")
	}
}

// TestManualReferenceAlone: places that a person put count alone where nothing was found at them, and the scale is as large as
// they say; where something was counted there otherwise than said, there is no scale.
func TestManualReferenceAlone(t *testing.T) {
	corners := []calibrate.Point{{XPx: 1000, YPx: 1000}, {XPx: 2000, YPx: 1000}, {XPx: 2000, YPx: 1600}, {XPx: 1000, YPx: 1600}}
	camera := calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26}
	grid := words.ManualReference{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 10, CellsDown: 6}, Corners: corners}
	ends := words.ManualReference{Reference: calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 20, BlockCm: 2}, Corners: corners[:2], PickPx: 6}
	miscounted := look.Found{Miscounted: true, Refused: calibrate.Refuse("count them again", "8 cells seen, 10 said")}
	for name, c := range map[string]struct {
		put     words.ManualReference
		found   look.Found
		perCm   float64 // 0: no scale
		counted string
	}{
		"four corners":    {grid, look.Found{}, 10, "four corners set by hand, each to 3 px"},
		"what was sought": {grid, look.Found{Refused: calibrate.Refuse("", "no strings")}, 10, "four corners set by hand, each to 3 px; looked for there: no strings"},
		"another number":  {grid, miscounted, 0, ""},
		"two ends":        {ends, look.Found{}, 50, "two ends set by hand, each to 6 px"},
	} {
		s, err := fitManual(c.put, camera, c.found)
		if err != nil || (s.Plane != nil) != (c.perCm > 0) || s.Counted != c.counted {
			t.Errorf("%s: plane %v, counted %q, refused %v, %v", name, s.Plane != nil, s.Counted, s.Refused, err)
			continue
		}
		if s.Plane == nil {
			continue
		}
		mu, mv := s.Plane.MiddleCm()
		level, err := s.Plane.At(0)
		if err != nil {
			t.Fatal(err)
		}
		if q, err := level.ScalePxPerCm(mu, mv); err != nil || q.Value < 0.99*c.perCm || q.Value > 1.01*c.perCm {
			t.Errorf("%s: %v px/cm, %v, want %g", name, q, err, c.perCm)
		}
	}
}

// TestPicturesThatGiveNoScale: a panorama scales by nothing, an ultra-wide picture by nothing that has few marks, put by hand
// or found; a cropped one does, without its focal length.
func TestPicturesThatGiveNoScale(t *testing.T) {
	grid, bar := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1}
	points := calibrate.Reference{Kind: calibrate.KindPoints, LengthCm: 10, From: &calibrate.Point{XPx: 10}, To: &calibrate.Point{XPx: 900}}
	for _, c := range []struct {
		shape   intake.ShapeKind
		ref     calibrate.Reference
		refused bool
	}{
		{"", grid, false}, {"", bar, false}, {"", points, false},
		{intake.Panorama, grid, true}, {intake.Panorama, bar, true}, {intake.Panorama, points, true},
		{intake.UltraWide, grid, false}, {intake.UltraWide, bar, true}, {intake.UltraWide, points, true},
		{intake.Cropped, grid, false}, {intake.Cropped, bar, false},
	} {
		r := &record.Record{Photo: intake.Photo{WidthPx: 4000, HeightPx: 3000}, Capture: &intake.Capture{}}
		if c.shape != "" {
			r.Capture.Shape = &intake.Shape{Kind: c.shape, Why: "as the test has it"}
		}
		in := Input{Photo: evidence.Photo{Sheets: &register.Register{}, Record: r}, Carried: []calibrate.Reference{c.ref}}
		if c.ref.Kind != calibrate.KindPoints {
			in.Found = []look.Found{{Marks: []calibrate.Mark{{}}}}
		}
		sightings, levels, err := Fit(in)
		if err != nil || len(sightings) != 1 || levels != nil {
			t.Fatalf("%s of a %s picture: %v, %v, %v", c.ref, c.shape, sightings, levels, err)
		}
		why := sightings[0].Refused
		if told := why != nil && strings.Contains(why.Reason, "as the test has it"); told != c.refused {
			t.Errorf("%s of a %s picture: refused %v, want it for the picture's shape: %v", c.ref, c.shape, why, c.refused)
		}
		s, err := in.Manual(words.ManualReference{Reference: c.ref, Corners: make([]calibrate.Point, c.ref.Puts())}, look.Found{Miscounted: true, Refused: calibrate.Refuse("", "counted otherwise")})
		if told := s.Refused != nil && strings.Contains(s.Refused.Reason, "as the test has it"); err != nil || told != c.refused {
			t.Errorf("%s put by hand in a %s picture: refused %v, %v", c.ref, c.shape, s.Refused, err)
		}
	}
}
