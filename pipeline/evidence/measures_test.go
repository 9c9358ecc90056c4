package evidence

import (
	"math"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// TestWhatAPhotoMeasures, seen from straight above at 10 px/cm: both ends of a find, outlines of bone and taped places; nothing of
// plaster or an underside; of an end or an outline that may be another find's nothing.
func TestWhatAPhotoMeasures(t *testing.T) {
	at := func(x, y float64) calibrate.Point { return calibrate.Point{XPx: x, YPx: y} }
	end := func(find, end string, x float64) figure.End { return figure.End{Find: find, End: end, At: at(x, 200)} }
	outline := func(name, of string) *figure.Marks {
		return &figure.Marks{Outlines: []figure.Outline{{Name: name, Of: of, Points: []calibrate.Point{at(200, 200), at(500, 200), at(500, 400), at(200, 400)}}}}
	}
	ends := func(e ...figure.End) *figure.Marks { return &figure.Marks{Ends: e} }
	both := ends(end("14", "1", 200), end("14", "2", 500))
	for name, c := range map[string]struct {
		marks *figure.Marks
		finds []string
		view  register.View
		want  []string
		value float64
	}{
		"both ends":                 {both, []string{"14"}, "", []string{"find 14 from end 1 to end 2 cm"}, 30},
		"in a gridded view":         {both, []string{"14"}, register.ViewGridded, []string{"find 14 from end 1 to end 2 cm"}, 30},
		"the closed jacket":         {both, []string{"14"}, register.ViewJacketed, nil, 0},
		"the underside":             {both, []string{"14"}, register.ViewUnderside, nil, 0},
		"no marks":                  {nil, []string{"14"}, "", nil, 0},
		"one end":                   {ends(end("14", "2", 500)), []string{"14"}, "", nil, 0},
		"the other end":             {ends(end("14", "1", 500)), []string{"14"}, "", nil, 0},
		"another find":              {ends(end("15", "1", 200), end("15", "2", 500)), []string{"14"}, "", nil, 0},
		"an end of each of two":     {ends(end("14", "1", 200), end("15", "2", 500)), []string{"14", "15"}, "", nil, 0},
		"the only find's, unnamed":  {ends(end("", "1", 200), end("", "2", 500)), []string{"14"}, "", []string{"find 14 from end 1 to end 2 cm"}, 30},
		"unnamed, one of two":       {ends(end("", "1", 200), end("", "2", 500)), []string{"14", "15"}, "", nil, 0},
		"the second of two":         {ends(end("15", "1", 200), end("15", "2", 500)), []string{"14", "15"}, "", []string{"find 15 from end 1 to end 2 cm"}, 30},
		"the bone":                  {outline("bone", "bone"), []string{"14"}, "", []string{"outline bone cm²"}, 600},
		"the bone, which of two":    {outline("bone", "bone"), []string{"14", "15"}, "", nil, 0},
		"a bone with a name of its": {outline("rib", "bone"), []string{"14", "15"}, "", []string{"outline rib cm²"}, 600},
		"the block":                 {outline("block", "block"), []string{"14"}, "", nil, 0},
		"a tape":                    {&figure.Marks{Tapes: []figure.Tape{{From: "p", To: "q", At: [2]calibrate.Point{at(200, 200), at(600, 200)}}}}, nil, "", []string{"the place from p to q cm"}, 40},
	} {
		p := shot("a", "14")
		p.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: truth.FlatOn(t)}}
		p.Marks, p.Belongs.View = c.marks, c.view
		j := register.Jacket{Number: "14", Finds: c.finds}
		var got []string
		for _, m := range p.Measures(j) {
			got = append(got, m.What+" "+m.Unit)
			if math.Abs(m.Least-c.value) > 0.02*c.value || m.Most < 1.1*m.Least || m.Photo != "a" || !(m.U > 0) {
				t.Errorf("%s: %+v, want %g on the strings, more below", name, m, c.value)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		p.Words.Depths = []words.Annotation[words.DepthWord]{{Value: words.DepthWord{DepthCm: 10}}}
		for _, m := range p.Measures(j) {
			if m.Least != m.Most || m.Least < 1.02*c.value {
				t.Errorf("%s, 10 cm below: %+v", name, m)
			}
		}
		p.Sightings = nil
		if got := p.Measures(j); got != nil {
			t.Errorf("%s: a photo without scale measures %v", name, got)
		}
	}
}

// TestOnWhichLevels a thing is looked for: what was said of it, then the bone's, else all that is likely of that kind of reference.
func TestOnWhichLevels(t *testing.T) {
	said := 3.0
	bone := &figure.Depth{Cm: 8, U: 1}
	for _, c := range []struct {
		kind calibrate.Kind
		bone *figure.Depth
		said *float64
		want []figure.Depth
	}{
		{calibrate.KindGrid, bone, &said, []figure.Depth{{Cm: 3}}}, {calibrate.KindGrid, bone, nil, []figure.Depth{*bone}},
		{calibrate.KindPoints, bone, nil, []figure.Depth{*bone}}, {calibrate.KindPoints, nil, nil, []figure.Depth{{}}},
		{calibrate.KindGrid, nil, nil, []figure.Depth{{}, {Cm: 20}}}, {calibrate.KindCard, nil, nil, []figure.Depth{{Cm: -5}, {}, {Cm: 5}}},
	} {
		if got := levelsOf(c.kind, c.bone, c.said); !slices.Equal(got, c.want) {
			t.Errorf("%s, bone %v, said %v: %v, want %v", c.kind, c.bone, c.said, got, c.want)
		}
	}
}
