package evidence

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// TestHowASizeIsKnown: confirmed by what agrees in the photo, by a card's check line, or by another photo that shows the same; said by
// a person, the set-up or the command line; else assumed. What is contradicted is not confirmed.
func TestHowASizeIsKnown(t *testing.T) {
	nine := must(calibrate.KindGrid, "9cm")
	elsewhere := func(ref calibrate.Reference, setUp bool, across, down int) Told {
		return Told{Shown: []Shown{{Photo: "b", Reference: ref, By: "card 7", Cells: [2]int{across, down}, SetUp: setUp}}}
	}
	plain := card(86)
	plain.Reference.CheckLineMm = nil
	byHand := lying(ten, 160)
	byHand.By = "AB"
	and := func(told Told, change func(told *Told)) Told { change(&told); return told }
	slip, _ := SpanOf("A1", "C1", 185, "AB")
	for name, c := range map[string]struct {
		seen    []Seen // the first is looked at
		told    Told
		known   calibrate.Known
		by      string
		photo   string
		against int
	}{
		"nothing":                      {[]Seen{lying(ten, 160)}, Told{}, calibrate.Assumed, "", "", 0},
		"a card whose line was taken":  {[]Seen{card(86)}, Told{}, calibrate.Confirmed, "its check line of 100 mm measured 100 mm", "", 0},
		"a card whose line was not":    {[]Seen{plain}, Told{}, calibrate.Assumed, "", "", 0},
		"two that agree":               {[]Seen{tiled(ten, 160, 1), card(168)}, Told{}, calibrate.Confirmed, "printed 9 mm wide; card 7 lies", "", 0},
		"a person":                     {[]Seen{byHand}, Told{PitchCm: 10, PitchBy: "set-up S1", Named: "the command line"}, calibrate.Said, "AB", "", 0},
		"the set-up":                   {[]Seen{lying(ten, 160)}, Told{PitchCm: 10, PitchBy: "set-up S1", Named: "the command line"}, calibrate.Said, "set-up S1", "", 0},
		"the set-up tells of no bar":   {[]Seen{lying(shortBar, 40)}, Told{PitchCm: 10, PitchBy: "set-up S1"}, calibrate.Assumed, "", "", 0},
		"the command line":             {[]Seen{lying(ten, 160)}, Told{Named: "the command line"}, calibrate.Said, "the command line", "", 0},
		"another of the set-up":        {[]Seen{lying(ten, 160)}, elsewhere(ten, true, 9, 9), calibrate.Confirmed, "card 7", "b", 0},
		"another set-up, same cells":   {[]Seen{lying(ten, 160)}, elsewhere(ten, false, 4, 3), calibrate.Confirmed, "card 7", "b", 0},
		"the other way round":          {[]Seen{lying(ten, 160)}, elsewhere(ten, false, 3, 4), calibrate.Confirmed, "card 7", "b", 0},
		"a row more":                   {[]Seen{lying(ten, 160)}, elsewhere(ten, false, 4, 4), calibrate.Assumed, "", "", 0},
		"a column more":                {[]Seen{lying(ten, 160)}, elsewhere(ten, false, 5, 3), calibrate.Assumed, "", "", 0},
		"another size elsewhere":       {[]Seen{lying(ten, 160)}, elsewhere(five, false, 4, 3), calibrate.Assumed, "", "", 0},
		"another size of the set-up":   {[]Seen{lying(ten, 160)}, elsewhere(five, true, 4, 3), calibrate.Assumed, "", "", 1},
		"no photo tells of a bar":      {[]Seen{lying(shortBar, 40)}, elsewhere(must(calibrate.KindGrid, "1cm"), true, 4, 3), calibrate.Assumed, "", "", 0},
		"nor speaks against it":        {[]Seen{lying(shortBar, 40)}, elsewhere(five, true, 4, 3), calibrate.Assumed, "", "", 0},
		"its own photo before another": {[]Seen{lying(ten, 160), card(168)}, elsewhere(ten, true, 4, 3), calibrate.Confirmed, "card 7 lies", "", 0},
		"a slip of the tape":           {[]Seen{lying(ten, 160), card(168)}, Told{Spans: []Span{slip}}, calibrate.Assumed, "", "", 1},
		"a slip and another photo":     {[]Seen{lying(ten, 160)}, and(elsewhere(ten, true, 4, 3), func(told *Told) { told.Spans = []Span{slip} }), calibrate.Assumed, "", "", 1},
		"found by another photo": {[]Seen{lying(nine, 160), lying(ten, 160*10/9.)}, // only the other photo tells nine from ten, so that it is named
			and(elsewhere(nine, true, 4, 3), func(told *Told) { told.Tapes = []figure.Tape{taped(160, 18, 180)} }), calibrate.Confirmed, "card 7", "b", 0},
	} {
		got := Sizes(c.seen, c.told)[0]
		if got.Size == nil {
			t.Errorf("%s: %v", name, got.Refused)
			continue
		}
		if s := got.Size; s.Known != c.known || !strings.Contains(s.By, c.by) || (c.by == "") != (s.By == "") || s.Photo != c.photo || len(s.Against) != c.against {
			t.Errorf("%s: %+v", name, *s)
		}
	}
}
