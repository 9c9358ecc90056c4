package evidence

import (
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestWhichSetUpAPhotoHas: the one that a person named, else the only one that its jackets stand under; two, or one that the sheets do
// not have, are none.
func TestWhichSetUpAPhotoHas(t *testing.T) {
	for name, c := range map[string]struct {
		jackets []string
		said    string
		want    string // "": none
	}{
		"its jacket's":              {[]string{"14"}, "", "S1"},
		"the second one's":          {[]string{"16"}, "", "S2"},
		"a jacket under two":        {[]string{"17"}, "", ""},
		"a jacket under none":       {[]string{"18"}, "", ""},
		"two jackets under one":     {[]string{"14", "15"}, "", "S1"},
		"two jackets, one each":     {[]string{"14", "16"}, "", ""},
		"two jackets, one has none": {[]string{"14", "18"}, "", ""},
		"no jacket":                 {nil, "", ""},
		"named":                     {nil, "S2", "S2"},
		"named against its jacket":  {[]string{"14"}, "S2", "S2"},
		"named, one of two":         {[]string{"17"}, "S1", "S1"},
		"named, not in the sheets":  {[]string{"14"}, "S3", ""},
	} {
		p := shot("a", c.jackets...)
		p.Belongs.SetUp = c.said
		got := ""
		if u := p.OneSetUp(); u != nil {
			got = u.Name
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	if u := (Photo{Record: shot("a", "14").Record}).OneSetUp(); u != nil {
		t.Errorf("a photo of no season has %+v", u)
	}
	p := shot("a")
	p.Sheets.SetUps = []register.SetUp{{Name: "S4", Jackets: []string{""}}}
	if u := p.SetUp(""); u != nil {
		t.Errorf("no jacket stands under %+v", u)
	}
}

// TestToldOfSizes: the set-up's pitch, depth and tapes, and what was said of this photo, which goes before; a depth of one square is
// none of the photo, and a tape between places of the picture is held against these, not against the squares.
func TestToldOfSizes(t *testing.T) {
	p := shot("a", "14")
	pitch, deep := 10.0, 12.0
	p.Sheets.SetUps[0].PitchCm, p.Sheets.SetUps[0].DepthToBoneCm = &pitch, &deep
	p.Sheets.SetUps[0].TapeChecks = []register.TapeCheck{{From: "A1", To: "C1", LengthMm: 201}, {From: "head", To: "tail", LengthMm: 400}}
	p.Shown = []Shown{{Photo: "b"}}
	told := p.ToldOfSizes()
	if told.PitchCm != 10 || told.PitchBy != "set-up S1" || told.Depth != (figure.Depth{Cm: 12, On: "set-up S1"}) || told.Named != "" || len(told.Shown) != 1 || told.Tapes != nil {
		t.Errorf("%+v", told)
	}
	if len(told.Spans) != 1 || told.Spans[0].LengthMm != 201 || told.Spans[0].By != "set-up S1" {
		t.Errorf("spans %+v", told.Spans)
	}
	p.Words.Depths = []words.Annotation[words.DepthWord]{{Value: words.DepthWord{Square: "B3", DepthCm: 6}}}
	if told := p.ToldOfSizes(); told.Depth.Cm != 12 {
		t.Errorf("the depth of a square counts for the photo: %+v", told.Depth)
	}
	p.Words.Depths = append(p.Words.Depths, words.Annotation[words.DepthWord]{Value: words.DepthWord{DepthCm: 7}})
	at := []calibrate.Point{{XPx: 1}, {XPx: 2}}
	p.Words.Tapes = []words.Annotation[words.Taped]{
		{Value: words.Taped{From: "A1", To: "A3", LengthMm: 199}}, {Value: words.Taped{From: "A1", To: "A4", LengthMm: 300, At: at}}, {Value: words.Taped{From: "head", To: "A4", LengthMm: 300}},
	}
	p.Marks = MarksOf(p.Words)
	told = p.ToldOfSizes()
	if told.Depth != (figure.Depth{Cm: 7}) || len(told.Spans) != 2 || told.Spans[1].LengthMm != 199 || told.Spans[1].By != "" || len(told.Tapes) != 1 || told.Tapes[0].LengthMm != 300 {
		t.Errorf("of this photo: %+v", told)
	}
	if told := (shot("a", "16")).ToldOfSizes(); told.PitchCm != 0 || told.PitchBy != "" || told.Depth != (figure.Depth{}) {
		t.Errorf("a set-up that says nothing: %+v", told)
	}
	p.Sheets = nil
	if told := p.ToldOfSizes(); told.Named != "the command line" || told.Shown != nil {
		t.Errorf("of no season: %+v", told)
	}
}

// TestMarksOf: each place alone is one; a tape without places is none.
func TestMarksOf(t *testing.T) {
	at := []calibrate.Point{{XPx: 1}, {XPx: 2}}
	for name, said := range map[string]words.PhotoAnnotations{
		"an end":     {Ends: []words.Annotation[words.EndPoint]{{Value: words.EndPoint{End: "1"}}}},
		"a north":    {North: &words.Annotation[words.NorthArrow]{}},
		"an origin":  {Origin: &words.Annotation[words.OriginWord]{}},
		"an up":      {Ups: map[string]words.Annotation[words.Arrow]{words.WayUp: {}}},
		"an outline": {Outlines: []words.Annotation[words.Outline]{{}}},
		"a tape":     {Tapes: []words.Annotation[words.Taped]{{Value: words.Taped{At: at}}}},
	} {
		if MarksOf(said) == nil {
			t.Errorf("%s is no mark", name)
		}
	}
	if m := MarksOf(words.PhotoAnnotations{Tapes: []words.Annotation[words.Taped]{{}}, Depths: []words.Annotation[words.DepthWord]{{}}}); m != nil {
		t.Errorf("%+v", m)
	}
	manual := words.ManualReference{PickPx: 3}
	p := Photo{Words: words.PhotoAnnotations{Reference: &words.Annotation[words.ManualReference]{Value: manual}}}
	if m := p.Manual(); m == nil || m.PickPx != 3 || (Photo{}).Manual() != nil {
		t.Error("the reference that a person put is not told from none")
	}
	var names []string
	for _, u := range MarksOf(words.PhotoAnnotations{Ups: map[string]words.Annotation[words.Arrow]{words.WayUp: {}, words.CarryUp: {}, words.FieldTop: {}}}).Ups {
		names = append(names, u.Which)
	}
	if !slices.Equal(names, []string{figure.FieldTop, figure.WayUp, figure.CarryUp}) {
		t.Errorf("ups %q", names)
	}
}
