package evidence

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
)

// bareBone is a gridded photo of jacket 14 whose squares a person marked.
func bareBone(file string) *Photo {
	p := shot(file, "14")
	p.Belongs.View = register.ViewGridded
	p.Sightings = []calibrate.Sighting{framed()}
	p.Marks = &figure.Marks{Origin: upperLeft}
	p.Photo.SHA256 = "sha " + file
	return p
}

// changed is bareBone otherwise.
func changed(file string, change func(p *Photo)) *Photo {
	p := bareBone(file)
	change(p)
	return p
}

// outlined is bareBone with the bone's outline.
func outlined(p *Photo) *Photo {
	marks := *p.Marks
	marks.Outlines = []figure.Outline{{Name: p.Photo.File, Of: "bone"}}
	p.Marks = &marks
	return p
}

// tilted is how a photo's strings are seen askew by so many degrees.
func tilted(deg float64) func(p *Photo) {
	return func(p *Photo) {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		p.Sightings[0].Plane.Homography = [9]float64{1. / 150, 0, 0, 0, cos / 150, 0, 0, sin / 150, 1}
	}
}

// TestWhatIsBroughtToAClosedJacket: outlines of photos of the same jacket under the same set-up whose squares are named and whose
// block lies as it did; else the picture that a person chose, or the one taken least askew.
func TestWhatIsBroughtToAClosedJacket(t *testing.T) {
	view := func(v register.View) func(p *Photo) { return func(p *Photo) { p.Belongs.View = v } }
	mirrored := func(p *Photo) { p.Codes = []look.Code{{Mirrored: true}} }
	chosen := func(p *Photo) { p.Belongs.Chosen = true }
	leftOut := func(p *Photo) { p.Belongs.LeaveOut = true }
	unmarked := func(p *Photo) { p.Marks = nil }
	otherJacket := func(p *Photo) { p.Belongs.Jackets = []string{"15"} }
	otherSetUp := func(p *Photo) { p.Belongs.SetUp = "S2" }
	noSetUp := func(p *Photo) { p.Belongs.SetUp = "S9" }
	unscaled := func(p *Photo) { p.Sightings = nil }
	board := func(p *Photo) { p.Sightings = []calibrate.Sighting{lying(smallBoard, 60).Sighting} }
	contradicted := func(p *Photo) { p.Sightings[0].Tiled = tiles(lowerRight) }
	flat := func(p *Photo) { p.Sightings[0].Plane.Camera.Focal35Mm = 0 }
	all := func(changes ...func(p *Photo)) func(p *Photo) {
		return func(p *Photo) {
			for _, c := range changes {
				c(p)
			}
		}
	}
	for name, c := range map[string]struct {
		to       func(p *Photo)
		from     []*Photo
		outlines []string
		picture  string
	}{
		"an outline":                     {nil, []*Photo{outlined(bareBone("a"))}, []string{"a"}, ""},
		"two":                            {nil, []*Photo{outlined(bareBone("a")), bareBone("b"), outlined(bareBone("c"))}, []string{"a", "c"}, ""},
		"of a photo of no view":          {nil, []*Photo{outlined(changed("a", view("")))}, []string{"a"}, ""},
		"of a closed jacket":             {nil, []*Photo{outlined(changed("a", view(register.ViewJacketed)))}, nil, ""},
		"of the underside":               {nil, []*Photo{outlined(changed("a", view(register.ViewUnderside)))}, nil, ""},
		"of the opened jacket":           {nil, []*Photo{outlined(changed("a", view(register.ViewOpened)))}, nil, ""},
		"of another jacket":              {nil, []*Photo{outlined(changed("a", otherJacket))}, nil, ""},
		"of another set-up":              {nil, []*Photo{outlined(changed("a", otherSetUp))}, nil, ""},
		"of a set-up that is not known":  {nil, []*Photo{outlined(changed("a", noSetUp))}, nil, ""},
		"of one that is left out":        {nil, []*Photo{outlined(changed("a", leftOut))}, nil, ""},
		"of one without scale":           {nil, []*Photo{outlined(changed("a", unscaled))}, nil, ""},
		"scaled by a board":              {nil, []*Photo{outlined(changed("a", board))}, nil, ""},
		"seen in a mirror":               {nil, []*Photo{outlined(changed("a", mirrored))}, nil, ""},
		"to a bare bone":                 {view(register.ViewGridded), []*Photo{outlined(bareBone("a"))}, nil, ""},
		"to one that is left out":        {leftOut, []*Photo{outlined(bareBone("a"))}, nil, ""},
		"to one of no set-up":            {noSetUp, []*Photo{outlined(bareBone("a"))}, nil, ""},
		"a picture":                      {nil, []*Photo{bareBone("a")}, nil, "a"},
		"its squares are not named":      {nil, []*Photo{changed("a", unmarked)}, nil, ""},
		"its squares are contradicted":   {nil, []*Photo{changed("a", contradicted)}, nil, ""},
		"an outline, so contradicted":    {nil, []*Photo{outlined(changed("a", contradicted))}, []string{"a"}, ""},
		"no view of the bare bone":       {nil, []*Photo{changed("a", view(register.ViewEnds))}, nil, ""},
		"no picture seen in a mirror":    {nil, []*Photo{changed("a", mirrored)}, nil, ""},
		"no picture of another set-up":   {nil, []*Photo{changed("a", otherSetUp)}, nil, ""},
		"no picture that is left out":    {nil, []*Photo{changed("a", leftOut)}, nil, ""},
		"the least askew":                {nil, []*Photo{changed("a", tilted(6)), changed("b", tilted(2)), changed("c", tilted(4))}, nil, "b"},
		"askew by no known angle":        {nil, []*Photo{changed("a", flat), changed("b", tilted(6))}, nil, "b"},
		"the chosen one":                 {nil, []*Photo{bareBone("a"), changed("b", all(chosen, tilted(6))), bareBone("c")}, nil, "b"},
		"the first of two alike":         {nil, []*Photo{bareBone("b"), bareBone("a"), bareBone("c")}, nil, "a"},
		"an outline and a chosen one":    {nil, []*Photo{outlined(bareBone("a")), changed("b", chosen)}, []string{"a"}, "b"},
		"an outline and one not chosen":  {nil, []*Photo{outlined(bareBone("a")), bareBone("b")}, []string{"a"}, ""},
		"a chosen one that is no use":    {nil, []*Photo{changed("a", all(chosen, unmarked)), bareBone("b")}, nil, "b"},
		"nothing but the closed jacket":  {nil, nil, nil, ""},
		"of a jacket beside the other's": {nil, []*Photo{changed("a", func(p *Photo) { p.Belongs.Jackets = []string{"15", "14"} })}, nil, "a"},
	} {
		to := shot("to", "14")
		to.Belongs.View = register.ViewJacketed
		if c.to != nil {
			c.to(to)
		}
		got := to.Uncover(append(c.from, to), "photos")
		var outlines []string
		for _, o := range got.Outlines {
			if o.Photo != o.Outline.Name || o.Squares == nil || o.Origin != upperLeft {
				t.Errorf("%s: %+v", name, o)
			}
			outlines = append(outlines, o.Photo)
		}
		if !slices.Equal(outlines, c.outlines) {
			t.Errorf("%s: outlines of %q, want %q", name, outlines, c.outlines)
		}
		picture := ""
		if e := got.Picture("14"); e != nil {
			picture = e.Photo
			if e.Jacket != "14" || e.Plane == nil || e.Squares == nil || e.Origin != upperLeft || e.Source.SHA256 != "sha "+picture {
				t.Errorf("%s: %+v", name, *e)
			}
		}
		if picture != c.picture || got.Picture("15") != nil {
			t.Errorf("%s: the picture is %q, want %q", name, picture, c.picture)
		}
		if (got.Key == "") != (c.outlines == nil && c.picture == "") {
			t.Errorf("%s: key %q", name, got.Key)
		}
	}
}

// TestTheKeyOfWhatIsCovered is another for another depth, day or outline, so that the plate is drawn anew.
func TestTheKeyOfWhatIsCovered(t *testing.T) {
	key := func(change func(p *Photo)) string {
		p := bareBone("a")
		change(p)
		to := shot("to", "14")
		to.Belongs.View = register.ViewJacketed
		return to.Uncover([]*Photo{p}, "photos").Key
	}
	deep := 12.0
	local, err := intake.ParseLocalTime("2026-02-11T10:01:00")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{}
	for name, change := range map[string]func(p *Photo){
		"plain":    func(*Photo) {},
		"deep":     func(p *Photo) { p.Sheets.SetUps[0].DepthToBoneCm = &deep },
		"a day":    func(p *Photo) { p.When = &phones.When{Local: local} },
		"other":    func(p *Photo) { p.Photo.SHA256 = "sha of other bytes" },
		"outlined": func(p *Photo) { outlined(p) },
		"outlined at another place": func(p *Photo) {
			outlined(p)
			p.Marks.Outlines[0].Points = []calibrate.Point{{XPx: 1}}
		},
		"turned": func(p *Photo) { p.Marks = &figure.Marks{Origin: lowerRight} },
	} {
		k := key(change)
		if other, ok := seen[k]; ok || k != key(change) {
			t.Errorf("%s and %q have one key, or none stays", name, other)
		}
		seen[k] = name
	}
}

// TestUnscaled: a person's wish speaks first; a photo that is scaled has no reason; a gridded view, or a reference that was seen, is a
// person's to settle.
func TestUnscaled(t *testing.T) {
	like, other := refusedAs(ten, calibrate.Like).Sighting, refusedAs(ten, calibrate.Other).Sighting
	for name, c := range map[string]struct {
		seen    []calibrate.Sighting
		view    register.View
		noScale string
		cards   []look.Code
		why     string
		settle  bool
	}{
		"scaled":              {[]calibrate.Sighting{like, lying(five, 80).Sighting}, register.ViewGridded, "", nil, "", false},
		"nothing looked for":  {nil, register.ViewGridded, "", nil, "", false},
		"wished":              {[]calibrate.Sighting{lying(five, 80).Sighting}, register.ViewGridded, "bent board, AB", nil, "bent board, AB", false},
		"gridded":             {[]calibrate.Sighting{like}, register.ViewGridded, "", nil, "as the test has it", true},
		"a view that is none": {[]calibrate.Sighting{like}, register.ViewBone, "", nil, "as the test has it", false},
		"seen well":           {[]calibrate.Sighting{other}, register.ViewBone, "", nil, "as the test has it", true},
		"a card not known":    {[]calibrate.Sighting{like}, "", "", []look.Code{{Card: 3}}, "card 3 lies in the picture", true},
	} {
		p := shot("a")
		p.Sightings, p.Belongs.View, p.NoScale, p.Codes = c.seen, c.view, c.noScale, c.cards
		got := ""
		if r := Unscaled(p.Record); r != nil {
			got = r.Reason
		}
		if (got == "") != (c.why == "") || !strings.Contains(got, c.why) {
			t.Errorf("%s: %q, want %q", name, got, c.why)
		}
		p.AddNote("draw", "", true, "a person's to settle")
		p.AddNote("draw", "", false, "decided")
		if notes := Refused(p.Record); len(notes) != map[bool]int{true: 2, false: 1}[c.settle] || notes[len(notes)-1].Text != "a person's to settle" || notes[0].Person == false {
			t.Errorf("%s: %+v", name, notes)
		}
	}
}
