package evidence

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// weighedAlone is what speaks for and against the first of what is seen, where nothing is open.
func weighedAlone(seen []Seen, told Told) weighed {
	p := weighing{told: told, seen: seen, open: make([]bool, len(seen)), lent: make([]bool, len(seen))}
	for _, s := range seen {
		p.out = append(p.out, s.Sighting)
	}
	return p.weigh(0)
}

// TestWhereThingsAreBelievedToLie, with 1 cm of U: 10 cm over strings, 40 cm or 0.6 of the strings' distance below them;
// beside each other as far apart as is asked.
func TestWhereThingsAreBelievedToLie(t *testing.T) {
	as := func(kind calibrate.Kind) calibrate.Sighting {
		return calibrate.Sighting{Reference: calibrate.Reference{Kind: kind}}
	}
	strings, card, bar := as(calibrate.KindGrid), as(calibrate.KindCard), as(calibrate.KindBar)
	for _, c := range []struct {
		name         string
		s, o         calibrate.Sighting
		far, apart   float64
		above, below float64 // limits with U
	}{
		{"a card under strings", strings, card, 100, 15, -11, 41},
		{"a card under strings from near", strings, card, 50, 15, -11, 31},
		{"strings over a card from far", card, strings, 200, 15, -41, 11},
		{"strings over a card", card, strings, 100, 15, -(60 + 1) / 1.6, 11}, // -q - 1 = 0.6 (100 + q)
		{"a bar beside a card", card, bar, 100, 15, -16, 16},
		{"a bar beside a card from near", card, bar, 20, 6, -7, 7},
		{"strings beside strings", strings, strings, 100, 15, -16, 16},
	} {
		for q, want := range map[float64]bool{c.above - 0.1: false, c.above + 0.1: true, 0: true, c.below - 0.1: true, c.below + 0.1: false} {
			if got := plausible(c.s, c.o, calibrate.Quantity{Value: q, U: 1}, c.far, c.apart); got != want {
				t.Errorf("%s from %g cm: %.1f cm below is believed: %t, want %t", c.name, c.far, q, got, want)
			}
		}
	}
}

// TestResized: half as large is half as far away, so that the other lies that much deeper; what the distance is not known by adds.
func TestResized(t *testing.T) {
	for times, want := range map[float64]calibrate.Quantity{1: {Value: 6, U: 3}, 0.5: {Value: 46, U: math.Hypot(3, 2)}, 2: {Value: -74, U: 5}} {
		got := resized(calibrate.Quantity{Value: 6, U: 3}, calibrate.Quantity{Value: 80, U: 4}, times)
		if math.Abs(got.Value-want.Value) > 1e-9 || math.Abs(got.U-want.U) > 1e-9 {
			t.Errorf("%g times: %v, want %v", times, got, want)
		}
	}
}

// TestWhatSpeaksForASize: another reference bears a size out where it lies as such things do, and would not at half or double the size.
func TestWhatSpeaksForASize(t *testing.T) {
	blind := func(s Seen) Seen { s.Plane.Camera.Focal35Mm = 0; return s }
	vague := func(s Seen) Seen { s.Plane.URel = 0.1; return s }
	byHand := card(168)
	byHand.By = "AB"
	numberless := card(168)
	numberless.Reference.Card = 0
	for name, c := range map[string]struct {
		seen        []Seen
		by, against string // parts; "": nothing
	}{
		"alone":                       {[]Seen{lying(ten, 160)}, "", ""},
		"a card below":                {[]Seen{lying(ten, 160), card(168)}, "card 7 lies 8.0", ""},
		"a card above":                {[]Seen{lying(ten, 160), card(155)}, "cm above it", ""},
		"any card":                    {[]Seen{lying(ten, 160), numberless}, "the card lies 8.0", ""},
		"a card too far above":        {[]Seen{lying(ten, 160), card(139)}, "", "card 7 lies 21.0"},
		"a card that contradicts":     {[]Seen{lying(ten, 160), card(120)}, "", "contradict each other"},
		"a card that a person put":    {[]Seen{lying(ten, 160), byHand}, "", ""},
		"a card that is not scaled":   {[]Seen{lying(ten, 160), refusedAs(calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, calibrate.Like)}, "", ""},
		"no focal length":             {[]Seen{blind(lying(ten, 160)), blind(card(168))}, "", ""},
		"a bar beside a board":        {[]Seen{lying(shortBar, 40), lying(smallBoard, 42)}, "the checker 7x5/2cm lies 2.0", ""},
		"strings over the card":       {[]Seen{card(168), lying(ten, 160)}, "the grid of 10 cm squares lies 8.0", ""},
		"so near that a double fits":  {[]Seen{vague(lying(shortBar, 20)), vague(lying(smallBoard, 25))}, "", ""},
		"so near that a half fits":    {[]Seen{lying(shortBar, 20), lying(smallBoard, 20.5)}, "", ""},
		"within the share":            {[]Seen{lying(shortBar, 40), lying(smallBoard, 50)}, "lies 10.0", ""},
		"beyond it":                   {[]Seen{lying(shortBar, 40), lying(smallBoard, 54)}, "", ""},
		"beyond that of the nearer":   {[]Seen{lying(shortBar, 40), lying(smallBoard, 30)}, "", ""},
		"apart":                       {[]Seen{lying(shortBar, 40), lying(smallBoard, 58)}, "", "lies 18.0"},
		"apart, above":                {[]Seen{lying(shortBar, 60), lying(smallBoard, 42)}, "", "lies 18.0"},
		"seen in the same marks":      {[]Seen{lying(shortBar, 40), lying(longBar, 80)}, "", ""},
		"not scaled itself, and seen": {[]Seen{refusedAs(ten, calibrate.Like), card(168)}, "", ""},
	} {
		w := weighedAlone(c.seen, Told{})
		for _, said := range []struct {
			what, want string
			got        []string
		}{{"by", c.by, w.by}, {"against", c.against, w.against}} {
			if said.want == "" && len(said.got) > 0 || said.want != "" && (len(said.got) != 1 || !strings.Contains(said.got[0], said.want)) {
				t.Errorf("%s: %s %q, want %q", name, said.what, said.got, said.want)
			}
			if strings.Contains(strings.Join(said.got, ""), "-") {
				t.Errorf("%s: %s %q", name, said.what, said.got)
			}
		}
		if w.gross {
			t.Errorf("%s: what lies beside it is gross", name)
		}
	}
}

// TestTapesWeigh: within U a tape bears a size out; plate over tape of less than 0.8 or more than 1.15 is another size; between
// them it is a slip, or another level.
func TestTapesWeigh(t *testing.T) {
	for mm, want := range map[float64]int{200: 1, 200 / 0.82: 0, 200 / 0.78: -1, 200 / 1.13: 0, 200 / 1.17: -1, 100: -1, 400: -1} {
		w := weighedAlone([]Seen{lying(ten, 160)}, Told{Tapes: []figure.Tape{taped(160, 20, mm)}})
		if got := len(w.by) - len(w.against); got != want || w.gross != (want < 0) {
			t.Errorf("20 cm taped as %.0f mm: for %q, against %q, gross %t", mm, w.by, w.against, w.gross)
		}
	}
	deep := weighedAlone([]Seen{lying(ten, 160)}, Told{Tapes: []figure.Tape{taped(160, 20, 220)}, Depth: figure.Depth{Cm: 16}})
	if len(deep.by) != 1 {
		t.Errorf("a tape at the bone's depth: %+v", deep)
	}
	two := []figure.Tape{taped(160, 20, 100), taped(160, 20, 200)}
	if w := weighedAlone([]Seen{lying(ten, 160)}, Told{Tapes: two}); !w.gross || len(w.by) != 1 || len(w.against) != 1 {
		t.Errorf("a wrong tape and a right one: %+v", w)
	}
	spans := func(mm ...float64) (out []Span) {
		for _, l := range mm {
			s, _ := SpanOf("A1", "C1", l, "AB")
			out = append(out, s)
		}
		return out
	}
	for _, c := range []struct {
		mm          []float64
		by, against int
		gross       bool
	}{{[]float64{200}, 1, 0, false}, {[]float64{185}, 0, 1, false}, {[]float64{100}, 0, 1, true}, {[]float64{100, 200}, 1, 1, true}} {
		if w := weighedAlone([]Seen{lying(ten, 160)}, Told{Spans: spans(c.mm...)}); len(w.by) != c.by || len(w.against) != c.against || w.gross != c.gross {
			t.Errorf("spans of %v mm: %+v", c.mm, w)
		}
	}
	if w := weighedAlone([]Seen{lying(shortBar, 40)}, Told{Spans: spans(100), PitchCm: 5}); len(w.by)+len(w.against) > 0 {
		t.Errorf("squares tell of a bar: %+v", w)
	}
}

// tiled is a grid seen beside a tile whose field of 6.3 cm (as we print it) shows so many times as large.
func tiled(ref calibrate.Reference, distanceCm, times float64) Seen {
	s := lying(ref, distanceCm)
	level, _ := s.Plane.At(0)
	at := func(u, v float64) calibrate.Point { p, _ := level.Photo(u, v); return p }
	side := 6.3 * times
	s.Tiles = []calibrate.Tile{{Number: 1, Middle: at(2+side/2, 2+side/2), Corners: [4]calibrate.Point{at(2, 2), at(2+side, 2), at(2+side, 2+side), at(2, 2+side)}}}
	return s
}

// TestTilesWeigh: the tiles at the frame's corners are printed at a known size; 1.25 times it, or its inverse, is another pitch.
func TestTilesWeigh(t *testing.T) {
	for times, want := range map[float64]int{1: 1, 1.24: 1, 1.26: -1, 1 / 1.24: 1, 1 / 1.26: -1, 2: -1, 0.5: -1} {
		w := weighedAlone([]Seen{tiled(ten, 160, times)}, Told{})
		if got := len(w.by) - len(w.against); got != want || len(w.by)+len(w.against) != 1 || w.gross != (want < 0) {
			t.Errorf("%.2f times as large: for %q, against %q", times, w.by, w.against)
		}
	}
	if w := weighedAlone([]Seen{lying(ten, 160), tiled(five, 80, 1)}, Told{}); len(w.by) != 0 || len(w.against) < 1 || !strings.Contains(w.against[0], "tiles") {
		t.Errorf("the tiles that were found with squares of half the size: %+v", w)
	}
	if w := weighedAlone([]Seen{lying(smallBoard, 60), tiled(ten, 60, 1)}, Told{}); strings.Contains(fmt.Sprint(w), "tiles") {
		t.Errorf("tiles tell of a board: %+v", w)
	}
}
