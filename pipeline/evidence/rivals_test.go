package evidence

import (
	"fmt"
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// marksAt gives a reference marks along a line of the photo.
func marksAt(s Seen, xs ...float64) Seen {
	s.Marks = nil
	for _, x := range xs {
		s.Marks = append(s.Marks, calibrate.Mark{At: calibrate.Point{XPx: x, YPx: 100}})
	}
	return s
}

// TestWhichReferencesCoincide: of one kind, in half the marks of the one that has fewer, 3 px apart at most; a photo's strings are one
// grid's, where any were seen.
func TestWhichReferencesCoincide(t *testing.T) {
	bar := func(xs ...float64) Seen { return marksAt(lying(shortBar, 40), xs...) }
	long := func(xs ...float64) Seen { return marksAt(lying(longBar, 80), xs...) }
	points := calibrate.Reference{Kind: calibrate.KindPoints, LengthCm: 10}
	for name, c := range map[string]struct {
		a, b Seen
		want bool
	}{
		"the same marks":         {bar(0, 100, 200, 300), long(0, 100, 200, 300), true},
		"2.9 px apart":           {bar(0, 100), long(2.9, 102.9), true},
		"3.1 px apart":           {bar(0, 100), long(3.1, 103.1), false},
		"half of the fewer":      {bar(0, 100, 200, 300), long(0, 100, 1200, 1300, 1400, 1500), true},
		"less than half":         {bar(0, 100, 200, 300, 400), long(0, 100, 1200, 1300, 1400, 1500), false},
		"no marks":               {bar(), long(), false},
		"none of the other":      {bar(0, 100), long(), false},
		"a bar and a board":      {bar(0, 100), marksAt(lying(smallBoard, 60), 0, 100), false},
		"cards":                  {marksAt(card(86), 0, 100), marksAt(card(90), 0, 100), false},
		"points":                 {marksAt(lying(points, 86), 0, 100), marksAt(lying(points, 90), 0, 100), false},
		"strings, however seen":  {marksAt(lying(ten, 160)), marksAt(lying(five, 80)), true},
		"strings, one not as it": {refusedAs(ten, calibrate.Like), lying(five, 80), true},
		"strings, other cells":   {lying(ten, 160), refusedAs(five, calibrate.Other), true},
		"strings, both refused":  {refusedAs(ten, calibrate.Like), refusedAs(five, calibrate.Like), true},
		"strings, one not seen":  {refusedAs(ten, calibrate.Unseen), lying(five, 80), false},
		"strings, not looked at": {Seen{Sighting: calibrate.Sighting{Reference: ten}}, lying(five, 80), false},
	} {
		if coincide(c.a, c.b) != c.want || coincide(c.b, c.a) != c.want {
			t.Errorf("%s: %t and %t, want %t", name, coincide(c.a, c.b), coincide(c.b, c.a), c.want)
		}
	}
}

// TestRivals: references that coincide are a group, also by way of a third; where none of them is scaled each keeps its own reason.
func TestRivals(t *testing.T) {
	bar := func(xs ...float64) Seen { return marksAt(lying(shortBar, 40), xs...) }
	board := func(xs ...float64) Seen { return marksAt(lying(smallBoard, 40), xs...) }
	for _, c := range []struct {
		name string
		seen []Seen
		want string
	}{
		{"apart", []Seen{bar(0, 100), bar(500, 600)}, "[]"},
		{"two", []Seen{bar(0, 100), bar(500, 600), bar(0, 100)}, "[[0 2]]"},
		{"three", []Seen{bar(0, 100), bar(0, 100), bar(0, 100)}, "[[0 1 2]]"},
		{"by way of a third", []Seen{bar(0, 100), bar(0, 500), bar(500, 600)}, "[[0 1 2]]"},
		{"two groups", []Seen{bar(0, 100), board(0, 100), bar(0, 100), board(0, 100)}, "[[0 2] [1 3]]"},
		{"two groups, one of three", []Seen{bar(0, 100), bar(0, 100), board(0, 100), board(0, 100), board(0, 100)}, "[[0 1] [2 3 4]]"},
		{"none scaled", []Seen{refusedAs(ten, calibrate.Like), refusedAs(five, calibrate.Other)}, "[[]]"},
		{"the last scaled", []Seen{refusedAs(ten, calibrate.Like), lying(five, 80)}, "[[0 1]]"},
		{"the first scaled", []Seen{lying(ten, 160), refusedAs(five, calibrate.Like)}, "[[0 1]]"},
	} {
		if got := fmt.Sprint(rivals(c.seen)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestWhatBecomesOfRivals: what lay there scales and takes the marks of the others; where nothing tells it none scales. What keeps its
// own reason is not touched.
func TestWhatBecomesOfRivals(t *testing.T) {
	half := ten
	half.CellsAcross, half.CellsDown = 4, 3
	other := func(ref calibrate.Reference, setUp bool) []Shown {
		return []Shown{{Photo: "b", Reference: ref, By: "card 7", Cells: [2]int{4, 3}, SetUp: setUp}}
	}
	for name, c := range map[string]struct {
		seen []Seen
		told Told
		want []string // of each: "scaled" or a part of its refusal
	}{
		"the other's marks":                {[]Seen{lying(ten, 160), lying(five, 80)}, Told{PitchCm: 5}, []string{"what was found is grid 5cm", "scaled"}},
		"one size, two frames":             {[]Seen{lying(ten, 160), lying(half, 160)}, Told{}, []string{"scaled", "what was found is grid 10cm"}},
		"one size, the second is scaled":   {[]Seen{refusedAs(half, calibrate.Like), lying(ten, 160)}, Told{}, []string{"what was found is grid 10cm", "scaled"}},
		"one size, the first is scaled":    {[]Seen{lying(ten, 160), refusedAs(half, calibrate.Like)}, Told{}, []string{"scaled", "what was found is grid 10cm"}},
		"what is left is not scaled":       {[]Seen{refusedAs(ten, calibrate.Like), lying(five, 80)}, Told{PitchCm: 10, PitchBy: "set-up S1"}, []string{"10 cm or 5 cm squares", "10 cm or 5 cm squares"}},
		"one contradicts what is known":    {[]Seen{refusedAs(ten, calibrate.Contradicts), lying(five, 80)}, Told{}, []string{"what was found is grid 5cm", "scaled"}},
		"none scaled":                      {[]Seen{refusedAs(ten, calibrate.Like), refusedAs(five, calibrate.Like)}, Told{PitchCm: 10}, []string{"grid 10cm: as the test", "grid 5cm: as the test"}},
		"a photo of the set-up":            {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Shown: other(ten, true)}, []string{"scaled", "what was found is grid 10cm"}},
		"a photo of another set-up":        {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Shown: other(ten, false)}, []string{"10 cm or 5 cm", "nothing tells which"}},
		"the photo itself before others":   {[]Seen{lying(ten, 160), lying(five, 80), card(86)}, Told{Shown: other(ten, true)}, []string{"what was found is grid 5cm", "scaled", "scaled"}},
		"the pitch is against both":        {[]Seen{lying(ten, 160), lying(five, 80)}, Told{PitchCm: 8, PitchBy: "set-up S1"}, []string{"against grid 10cm: set-up S1 has a pitch of 8 cm; against grid 5cm", "grid: 10 cm or 5 cm squares? The same marks fit grid 10cm and grid 5cm"}},
		"one group settles another":        {[]Seen{lying(ten, 160), lying(five, 80), marksAt(lying(shortBar, 40), 1, 99), marksAt(lying(longBar, 80), 1, 99)}, Told{PitchCm: 5}, []string{"what was found is grid 5cm", "scaled", "what was found is bar 20cm/2cm", "scaled"}},
		"the pitch told, and a bar beside": {[]Seen{marksAt(lying(shortBar, 40), 1, 99), marksAt(lying(longBar, 80), 1, 99), lying(ten, 80), lying(five, 40)}, Told{PitchCm: 10}, []string{"what was found is bar 20cm/2cm", "scaled", "scaled", "what was found is grid 10cm"}},
	} {
		for i, s := range Sizes(c.seen, c.told) {
			switch {
			case c.want[i] == "scaled":
				if s.Plane == nil || s.Size == nil || s.Refused != nil {
					t.Errorf("%s: %s is refused: %v", name, s.Reference, s.Refused)
				}
			case s.Plane != nil || s.Size != nil || s.Refused == nil || !strings.Contains(s.Refused.Reason, c.want[i]):
				t.Errorf("%s: %s scales %t, refused as %v, want %q", name, s.Reference, s.Plane != nil, s.Refused, c.want[i])
			}
		}
	}
}

// TestSamePitch: 10 cm for a measured 10.05 are the same squares, 10 for four inches are not (1 in = 2.54 cm exactly).
func TestSamePitch(t *testing.T) {
	for typed, want := range map[float64]bool{10: true, 10.05: true, 9.95: true, 10.11: false, 9.89: false, 4 * 2.54: false} {
		if SamePitch(typed, 10) != want {
			t.Errorf("%g cm: %t", typed, !want)
		}
	}
	if SamePitch(0.105, 0.1) || !SamePitch(50.4, 50) {
		t.Error("the share is not of the grid's pitch")
	}
}
