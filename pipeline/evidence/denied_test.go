package evidence

import (
	"slices"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// TestASizeThatAnotherPhotoDenies: a grid that a card, a tape or a board in another photo of the set-up shows to be of another
// size scales no photo of the set-up, whatever was typed of it, but one that holds a proof of its own.
func TestASizeThatAnotherPhotoDenies(t *testing.T) {
	no := func(setUp bool, cells [2]int) Told {
		return Told{Shown: []Shown{{Photo: "a.jpg", Reference: ten, By: "card 7 says so", Cells: cells, SetUp: setUp, Denied: true}}}
	}
	typed := func(t Told) Told { t.PitchCm, t.PitchBy = 10, "set-up S1"; return t }
	for name, c := range map[string]struct {
		seen    []Seen
		told    Told
		refused bool
		marked  bool // in the size of one that stands
	}{
		"of the set-up":                 {[]Seen{lying(ten, 160)}, no(true, [2]int{2, 2}), true, false},
		"of the set-up, pitch typed":    {[]Seen{lying(ten, 160)}, typed(no(true, [2]int{2, 2})), true, false},
		"of the set-up, a card here":    {[]Seen{lying(ten, 160), card(168)}, no(true, [2]int{4, 3}), false, true},
		"the same cells":                {[]Seen{lying(ten, 160)}, no(false, [2]int{3, 4}), true, false},
		"the same cells, pitch typed":   {[]Seen{lying(ten, 160)}, typed(no(false, [2]int{4, 3})), false, false},
		"other cells":                   {[]Seen{lying(ten, 160)}, no(false, [2]int{4, 4}), false, false},
		"another size is denied":        {[]Seen{lying(five, 80)}, no(true, [2]int{4, 3}), false, false},
		"another size is shown there":   {[]Seen{lying(ten, 160)}, Told{Shown: []Shown{{Photo: "a.jpg", Reference: five, By: "card 7", SetUp: true}}}, true, false},
		"it is shown elsewhere as well": {[]Seen{lying(ten, 160)}, Told{Shown: append([]Shown{{Photo: "b.jpg", Reference: ten, By: "a tape", SetUp: true}}, no(true, [2]int{}).Shown...)}, true, false},
	} {
		got := Sizes(c.seen, c.told)[0]
		if refused := got.Plane == nil; refused != c.refused {
			t.Errorf("%s: refused %t", name, refused)
			continue
		}
		if c.refused && (got.Refused.Near != calibrate.Contradicts || !strings.Contains(got.Refused.Reason, "a.jpg")) {
			t.Errorf("%s: refused as %+v", name, got.Refused)
		}
		if !c.refused && (len(got.Size.Against) > 0) != c.marked {
			t.Errorf("%s: against it %v", name, got.Size.Against)
		}
	}
}

// TestAPhotoDeniesASizeByWhatItShows, whether its own grid is refused for it or for what others say, and also where two grids fit the strings;
// what was typed of the set-up denies nothing elsewhere.
func TestAPhotoDeniesASizeByWhatItShows(t *testing.T) {
	half, _ := SpanOf("A1", "C1", 101, "")
	slip, _ := SpanOf("A1", "C1", 185, "")
	other := Shown{Photo: "b.jpg", Reference: ten, By: "card 7 says so", SetUp: true, Denied: true}
	for name, c := range map[string]struct {
		seen []Seen
		told Told
		want string // in why; "": it denies nothing
	}{
		"a card":                  {[]Seen{lying(ten, 160), card(86)}, Told{}, "card 7"},
		"a card, denied by other": {[]Seen{lying(ten, 160), card(86)}, Told{Shown: []Shown{other}}, "card 7"},
		"a tape":                  {[]Seen{lying(ten, 160)}, Told{Spans: []Span{half}}, "tape 101 mm"},
		"a card and two grids":    {[]Seen{lying(ten, 160), lying(five, 80), card(86)}, Told{PitchCm: 10, PitchBy: "set-up S1"}, "card 7"},
		"a slip of the tape":      {[]Seen{lying(ten, 160)}, Told{Spans: []Span{slip}}, ""},
		"a typed pitch":           {[]Seen{lying(ten, 160)}, Told{PitchCm: 5, PitchBy: "set-up S1"}, ""},
		"another photo":           {[]Seen{lying(ten, 160)}, Told{Shown: []Shown{other}}, ""},
		"a card where it should":  {[]Seen{lying(ten, 160), card(168)}, Told{}, ""},
	} {
		got := Sizes(c.seen, c.told)[0].Denied
		if (got != nil) != (c.want != "") || got != nil && (!strings.Contains(got.By, c.want) || got.Cells != [2]int{4, 3}) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	put := lying(ten, 160)
	put.By = "AB"
	if got := Sizes([]Seen{put, card(86)}, Told{})[0].Denied; got != nil {
		t.Errorf("corners that a person put may lie beside the strings: %+v", got)
	}
}

// TestWhatIsDeniedIsShared with the set-up, and where the season carries one grid with photos of no set-up.
func TestWhatIsDeniedIsShared(t *testing.T) {
	sheets := &register.Register{SetUps: []register.SetUp{{Name: "S1", Jackets: []string{"1"}}, {Name: "S2", Jackets: []string{"2"}}}}
	photo := func(file, jacket string) *Photo {
		return &Photo{Sheets: sheets, Record: &record.Record{Photo: intake.Photo{File: file}, Belongs: assign.Belongs{Jackets: []string{jacket}}}}
	}
	photos := []*Photo{photo("a.jpg", "1"), photo("b.jpg", "1"), photo("c.jpg", "2"), photo("d.jpg", "3")}
	photos[0].Sightings = []calibrate.Sighting{{Reference: ten, Denied: &calibrate.Denied{By: "card 7 says so", Cells: [2]int{4, 3}}}}
	for _, c := range []struct {
		carried []calibrate.Reference
		want    []string
	}{
		{[]calibrate.Reference{ten}, []string{"b.jpg", "c.jpg", "d.jpg"}},
		{[]calibrate.Reference{ten, five}, []string{"b.jpg"}},
	} {
		Share(photos, func(int) bool { return true }, c.carried)
		var got []string
		for _, p := range photos {
			if slices.ContainsFunc(p.Shown, func(s Shown) bool { return s.Photo == "a.jpg" && s.Denied && s.Cells == [2]int{4, 3} }) {
				got = append(got, p.Photo.File)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("told to %v, want %v", got, c.want)
		}
	}
	photos[0].Belongs.LeaveOut = true
	if Share(photos, func(int) bool { return true }, []calibrate.Reference{ten}); len(photos[1].Shown) > 0 {
		t.Error("a photo that is left out speaks")
	}
}

// TestGridsThatAreAllContradicted are no question of which one lay there: the photo contradicts itself.
func TestGridsThatAreAllContradicted(t *testing.T) {
	for name, c := range map[string]struct {
		told Told
		near calibrate.Nearness
	}{
		"a pitch against a card": {Told{PitchCm: 10, PitchBy: "set-up S1"}, calibrate.Contradicts},
		"a pitch of neither":     {Told{PitchCm: 8, PitchBy: "set-up S1"}, calibrate.Contradicts},
		"nothing told":           {Told{}, calibrate.Either},
	} {
		seen := []Seen{lying(ten, 160), lying(five, 80)}
		if name == "a pitch against a card" {
			seen = append(seen, card(86))
		}
		for _, s := range Sizes(seen, c.told)[:2] {
			if s.Refused == nil || s.Refused.Near != c.near {
				t.Errorf("%s: %s is refused as %+v", name, s.Reference, s.Refused)
			}
		}
	}
}
