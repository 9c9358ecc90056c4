package evidence

import (
	"fmt"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// sheets has jackets 14 and 15 under set-up S1, 16 under S2, and 17 under both.
func sheets() *register.Register {
	return &register.Register{
		SetUps:  []register.SetUp{{Name: "S1", Jackets: []string{"14", "15", "17"}}, {Name: "S2", Jackets: []string{"16", "17"}}},
		Jackets: []register.Jacket{{Number: "14"}, {Number: "15"}, {Number: "16"}, {Number: "17"}},
	}
}

// shot is a photo of jackets; none: of no jacket.
func shot(file string, jackets ...string) *Photo {
	p := &Photo{Record: record.New(file), Sheets: sheets()}
	p.Belongs.Jackets = jackets
	return p
}

// confirming is a photo that shows the whole of a grid of so many cells, whose size something else in it confirms.
func confirming(file string, ref calibrate.Reference, across, down int, jackets ...string) *Photo {
	p := shot(file, jackets...)
	ref.CellsAcross, ref.CellsDown = across, down
	s := lying(ref, 160).Sighting
	w, h := float64(across)*ref.PitchCm, float64(down)*ref.PitchCm
	s.Plane.Corners = [4][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}}
	s.Size = &calibrate.Size{Known: calibrate.Confirmed, By: "card 7"}
	p.Sightings = []calibrate.Sighting{s}
	return p
}

// TestWhatAPhotoConfirmsForOthers: a grid of its own set-up, and where the season carries one grid alone any; only what counts, was
// scaled and is confirmed in that very photo; each size once, that of the own set-up first.
func TestWhatAPhotoConfirmsForOthers(t *testing.T) {
	with := func(change func(p *Photo)) []*Photo {
		p := confirming("a", ten, 4, 3, "14")
		change(p)
		return []*Photo{p}
	}
	size := func(change func(s *calibrate.Sighting)) []*Photo {
		return with(func(p *Photo) { change(&p.Sightings[0]) })
	}
	of := func(file string, ref calibrate.Reference, across, down int, jackets ...string) *Photo {
		return confirming(file, ref, across, down, jackets...)
	}
	one, two := []calibrate.Reference{ten, {Kind: calibrate.KindCard, Card: 7}}, []calibrate.Reference{ten, five}
	for name, c := range map[string]struct {
		from    []*Photo
		to      *Photo
		carried []calibrate.Reference
		want    []string
	}{
		"the same set-up":             {[]*Photo{of("a", ten, 4, 3, "14")}, shot("to", "15"), two, []string{"a 10 cm 4x3 own"}},
		"named by a person":           {with(func(p *Photo) { p.Belongs = assign.Belongs{SetUp: "S2"} }), shot("to", "16"), two, []string{"a 10 cm 4x3 own"}},
		"another set-up, two grids":   {[]*Photo{of("a", ten, 4, 3, "14")}, shot("to", "16"), two, nil},
		"another set-up, one grid":    {[]*Photo{of("a", ten, 4, 3, "14")}, shot("to", "16"), one, []string{"a 10 cm 4x3"}},
		"another set-up, none":        {[]*Photo{of("a", ten, 4, 3, "14")}, shot("to", "16"), nil, nil},
		"of no set-up, two grids":     {[]*Photo{of("a", ten, 4, 3)}, shot("to"), two, nil},
		"of no set-up, one grid":      {[]*Photo{of("a", ten, 4, 3)}, shot("to"), one, []string{"a 10 cm 4x3"}},
		"to no set-up":                {[]*Photo{of("a", ten, 4, 3, "14")}, shot("to"), one, []string{"a 10 cm 4x3"}},
		"of two set-ups":              {[]*Photo{of("a", ten, 4, 3, "14", "16")}, shot("to", "14"), two, nil},
		"of one that is not counted":  {[]*Photo{of("copy", ten, 4, 3, "14")}, shot("to", "14"), two, nil},
		"of one that is left out":     {with(func(p *Photo) { p.Belongs.LeaveOut = true }), shot("to", "14"), two, nil},
		"not scaled":                  {size(func(s *calibrate.Sighting) { s.Plane = nil }), shot("to", "14"), two, nil},
		"no grid":                     {size(func(s *calibrate.Sighting) { s.Reference.Kind = calibrate.KindBar }), shot("to", "14"), two, nil},
		"of a size not looked at":     {size(func(s *calibrate.Sighting) { s.Size = nil }), shot("to", "14"), two, nil},
		"of an assumed size":          {size(func(s *calibrate.Sighting) { s.Size.Known = calibrate.Assumed }), shot("to", "14"), two, nil},
		"of a size that was said":     {size(func(s *calibrate.Sighting) { s.Size.Known = calibrate.Said }), shot("to", "14"), two, nil},
		"what it has from another":    {size(func(s *calibrate.Sighting) { s.Size.Photo = "b" }), shot("to", "14"), two, nil},
		"the same twice":              {[]*Photo{of("a", ten, 4, 3, "14"), of("b", ten, 4, 3, "15")}, shot("to", "14"), two, []string{"a 10 cm 4x3 own"}},
		"a part of it":                {[]*Photo{of("a", ten, 4, 3, "14"), of("b", ten, 4, 2, "15")}, shot("to", "14"), two, []string{"a 10 cm 4x3 own"}},
		"two sizes of one set-up":     {[]*Photo{of("a", ten, 4, 3, "14"), of("b", five, 4, 3, "15")}, shot("to", "14"), two, []string{"a 10 cm 4x3 own", "b 5 cm 4x3 own"}},
		"elsewhere twice":             {[]*Photo{of("a", ten, 4, 3, "16"), of("b", ten, 4, 3, "16")}, shot("to", "14"), one, []string{"a 10 cm 4x3"}},
		"elsewhere, other cells":      {[]*Photo{of("a", ten, 4, 3, "16"), of("b", ten, 5, 3, "16")}, shot("to", "14"), one, []string{"a 10 cm 4x3", "b 10 cm 5x3"}},
		"its own set-up's first":      {[]*Photo{of("a", ten, 4, 3, "16"), of("b", ten, 4, 3, "15"), of("c", ten, 5, 3, "16")}, shot("to", "14"), one, []string{"b 10 cm 4x3 own", "a 10 cm 4x3", "c 10 cm 5x3"}},
		"its own first, as they come": {[]*Photo{of("a", ten, 4, 3, "15"), of("b", ten, 4, 3, "16"), of("c", five, 4, 3, "15")}, shot("to", "14"), one, []string{"a 10 cm 4x3 own", "c 5 cm 4x3 own", "b 10 cm 4x3"}},
	} {
		photos := append(slices.Clone(c.from), c.to)
		c.to.Shown = []Shown{{Photo: "of an earlier run"}}
		Share(photos, func(i int) bool { return photos[i].Photo.File != "copy" }, c.carried)
		var got []string
		for _, s := range c.to.Shown {
			text := fmt.Sprintf("%s %g cm %dx%d", s.Photo, s.Reference.PitchCm, s.Cells[0], s.Cells[1])
			if s.SetUp {
				text += " own"
			}
			if s.By != "card 7" {
				t.Errorf("%s: by %q", name, s.By)
			}
			got = append(got, text)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		if len(c.from) == 1 && len(c.from[0].Shown) > 0 {
			t.Errorf("%s: what a photo confirms came back to it: %+v", name, c.from[0].Shown)
		}
	}
}
