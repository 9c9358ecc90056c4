package plate

import (
	"slices"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// TestWhichLengthsAreTold: between ends that are both marked and not contradicted, where the photo shows bone and has a scale;
// with what is to be minded of the scale, and of a bone that lies askew.
func TestWhichLengthsAreTold(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	depth, east, plunge, steep := 6.0, 90.0, 25.0, 80.0
	both := []figure.End{{End: "1", At: l.Photo(t, -20, 0)}, {End: "2", At: l.Photo(t, 20, 0)}} // B lies to the east
	north := &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 20), Head: l.Photo(t, 0, -20)}, Of: register.NorthTrue, From: "arrow set by RKA"}
	west := 270.0
	for name, c := range map[string]struct {
		ends  []figure.End
		axis  *float64
		with  func(*shot)
		says  string // of the one length; "": there is none
		other string // what the plate says of a length that is not given
	}{
		"marked":              {ends: both, says: " cm at bone level (6 cm below the strings)"},
		"agrees with bearing": {ends: both, axis: &east, says: " cm at bone level (6 cm below the strings)"},
		"one end":             {ends: both[:1]},
		"contradicted":        {ends: both, axis: &west, other: "not given: its ends are contradicted"},
		"plaster":             {ends: both, with: func(k *shot) { k.r.Belongs.View = register.ViewJacketed }},
		"underside":           {ends: both, with: func(k *shot) { k.r.Belongs.View = register.ViewUnderside }, says: "at the level of the strings only; 6 % longer if the bone lies 10 cm below"},
		"no scale":            {ends: both, with: func(k *shot) { k.r.Sightings = nil }},
		"mirrored photo":      {ends: both, with: func(k *shot) { k.r.Codes = []look.Code{{Mirrored: true}} }},
		"assumed":             {ends: both, with: func(k *shot) { k.r.Sightings[0].Size = &calibrate.Size{Known: calibrate.Assumed} }, says: "; squares of 10 cm assumed"},
		"contradicted size": {ends: both, with: func(k *shot) {
			k.r.Sightings[0].Size = &calibrate.Size{Known: calibrate.Said, Against: []string{"a tape"}}
		}, says: "; the size of the strings is CONTRADICTED"},
		"plunges":       {ends: both, with: func(k *shot) { k.season.Register.Finds[0].PlungeDeg = &plunge }, says: "; its axis plunges 25°: along the bone 10 % longer"},
		"stands on end": {ends: both, with: func(k *shot) { k.season.Register.Finds[0].PlungeDeg = &steep }, says: "; its axis plunges 80°: the bone itself is longer than is seen here"},
		"plunges on slope": {ends: both, with: func(k *shot) {
			k.season.Register.Finds[0].PlungeDeg = &plunge
			k.season.Register.SetUps[0].Plane = "slope"
		}, says: "; its axis plunges 25°: the bone itself is longer than is seen here"},
	} {
		k := testTask(l.Plane, &figure.Marks{Ends: c.ends, North: north}, register.SetUp{Name: "S1", DepthToBoneCm: &depth},
			register.Find{FieldNumber: "14", EndA: "proximal", AxisBearingAToBDeg: c.axis, BearingNorth: register.NorthTrue})
		k.r.Photo.File = "rka/a.jpg"
		if c.with != nil {
			c.with(k)
		}
		plates := k.plates()
		got := record.LengthsOf(plates)
		row := rowNamed(plates[0].Made, "length of 14")
		switch {
		case c.says == "" && (len(got) > 0 || row != c.other):
			t.Errorf("%s: %+v, row %q, want %q", name, got, row, c.other)
		case c.says == "":
		case len(got) != 1 || !strings.HasSuffix(got[0].Says, c.says) || got[0].Find != "14" || got[0].Photo != "rka/a.jpg" || row != "proximal end to end 2: "+got[0].Says:
			t.Errorf("%s: %+v, row %q, want one that says %q", name, got, row, c.says)
		}
	}
}

// TestOutlinesAreSized on their plates, once though the plate is drawn mirrored too.
func TestOutlinesAreSized(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	depth := 6.0
	marks := &figure.Marks{Outlines: []figure.Outline{{Name: "tibia", Of: "bone", Points: []calibrate.Point{l.Photo(t, -20, 0), l.Photo(t, 0, 5), l.Photo(t, 20, 0), l.Photo(t, 0, -4)}}}}
	k := testTask(l.Plane, marks, register.SetUp{Name: "S1", DepthToBoneCm: &depth}, register.Find{FieldNumber: "14"})
	plates := k.plates()
	var whats []string
	for _, l := range record.LengthsOf(plates) {
		whats = append(whats, l.What)
		if l.Outline != "tibia" || l.Cm == nil || !strings.Contains(l.Says, "at bone level (6 cm below the strings)") {
			t.Errorf("%+v", l)
		}
	}
	if len(plates) != 2 || !slices.Equal(whats, []string{figure.GreatestLength, figure.WidthAcross}) {
		t.Errorf("%d plates, %q", len(plates), whats)
	}
	if got := rowNamed(plates[0].Made, "size of tibia"); !strings.HasPrefix(got, "greatest length: 4") {
		t.Errorf("%q", got)
	}
}
