package evidence

import (
	"slices"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// lying is a reference seen square from distanceCm, with marks where its steps are.
func lying(ref calibrate.Reference, distanceCm float64) Seen {
	camera := calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26}
	s := Seen{Sighting: calibrate.Sighting{Reference: ref, Plane: &calibrate.Plane{
		Camera:     camera,
		Homography: [9]float64{1 / distanceCm, 0, 0, 0, 1 / distanceCm, 0, 0, 0, 1},
		Corners:    [4][2]float64{{0, 0}, {4 * ref.StepCm(), 0}, {4 * ref.StepCm(), 3 * ref.StepCm()}, {0, 3 * ref.StepCm()}},
	}}}
	level, _ := s.Plane.At(0)
	for i := range 5 {
		at, _ := level.Photo(float64(i)*ref.StepCm(), ref.StepCm())
		s.Marks = append(s.Marks, calibrate.Mark{At: at, UCm: float64(i) * ref.StepCm()})
	}
	return s
}

func must(kind calibrate.Kind, text string) calibrate.Reference {
	ref, err := calibrate.ParseReference(kind, text)
	if err != nil {
		panic(err)
	}
	return ref
}

var (
	ten, five  = must(calibrate.KindGrid, "10cm"), must(calibrate.KindGrid, "5cm")
	shortBar   = must(calibrate.KindBar, "10cm/1cm")
	longBar    = must(calibrate.KindBar, "20cm/2cm")
	smallBoard = must(calibrate.KindChecker, "7x5/2cm")
	largeBoard = must(calibrate.KindChecker, "7x5/3cm")
)

// refusedAs is a reference that was refused so.
func refusedAs(ref calibrate.Reference, near calibrate.Nearness) Seen {
	return Seen{Sighting: calibrate.Sighting{Reference: ref, Refused: calibrate.Refuse("", "%s: as the test has it", ref).At(near)}}
}

// card is card 7 at that distance; its check line was measured.
func card(distanceCm float64) Seen {
	mm := 100.0
	return lying(calibrate.Reference{Kind: calibrate.KindCard, Card: 7, CheckLineMm: &mm}, distanceCm)
}

// TestOfTwoReferencesOneLayThere: marks that fit two references of different size scale by one at most, and only where
// something tells which. A half size is as far from the camera in half the distance, so that its marks coincide.
func TestOfTwoReferencesOneLayThere(t *testing.T) {
	span := func(mm float64) []Span { s, _ := SpanOf("A1", "C1", mm, "AB"); return []Span{s} }
	shown := func(ref calibrate.Reference, setUp bool) Shown {
		return Shown{Photo: "a.jpg", Reference: ref, By: "card 7", Cells: [2]int{4, 3}, SetUp: setUp}
	}
	for name, c := range map[string]struct {
		seen  []Seen
		told  Told
		want  string // the one that scales; "": none
		says  string // in the refusal of each, or in how the size is known
		known calibrate.Known
	}{
		"two grids":                   {[]Seen{lying(ten, 160), lying(five, 80)}, Told{}, "", "10 cm or 5 cm squares", ""},
		"two bars":                    {[]Seen{lying(shortBar, 40), lying(longBar, 80)}, Told{}, "", "1 cm or 2 cm blocks", ""},
		"two boards":                  {[]Seen{lying(smallBoard, 60), lying(largeBoard, 90)}, Told{}, "", "2 cm or 3 cm squares", ""},
		"three grids":                 {[]Seen{lying(ten, 160), lying(five, 80), lying(must(calibrate.KindGrid, "20cm"), 320)}, Told{PitchCm: 5, PitchBy: "set-up S1"}, "grid 5cm", "set-up S1", calibrate.Said},
		"the set-up's pitch":          {[]Seen{lying(ten, 160), lying(five, 80)}, Told{PitchCm: 5, PitchBy: "set-up S1"}, "grid 5cm", "set-up S1", calibrate.Said},
		"another pitch of the set-up": {[]Seen{lying(ten, 160), lying(five, 80)}, Told{PitchCm: 8, PitchBy: "set-up S1"}, "", "set-up S1 has a pitch of 8 cm", ""},
		"one has other cells":         {[]Seen{refusedAs(ten, calibrate.Other), lying(five, 80)}, Told{}, "grid 5cm", "", calibrate.Assumed},
		"one does not fit as well":    {[]Seen{refusedAs(ten, calibrate.Like), lying(five, 80)}, Told{}, "", "10 cm or 5 cm squares", ""},
		"one is not there":            {[]Seen{refusedAs(ten, calibrate.Unseen), lying(five, 80)}, Told{}, "grid 5cm", "", calibrate.Assumed},
		"a card below":                {[]Seen{lying(ten, 160), lying(five, 80), card(86)}, Told{}, "grid 5cm", "card 7 lies 6.0", calibrate.Confirmed},
		"a card far below":            {[]Seen{lying(ten, 160), lying(five, 80), card(168)}, Told{}, "grid 10cm", "card 7 lies 8.0", calibrate.Confirmed},
		"a card where neither has it": {[]Seen{lying(ten, 160), lying(five, 80), card(130)}, Told{}, "", "contradict each other", ""},
		"a board beside a bar":        {[]Seen{lying(shortBar, 40), lying(longBar, 80), lying(smallBoard, 82)}, Told{}, "bar 20cm/2cm", "the checker 7x5/2cm lies 2", calibrate.Confirmed},
		"a bar close to the lens":     {[]Seen{lying(shortBar, 20), lying(longBar, 40), card(29)}, Told{}, "", "1 cm or 2 cm blocks", ""},
		"two boards tell of no bar":   {[]Seen{lying(shortBar, 40), lying(longBar, 80), lying(smallBoard, 60), lying(largeBoard, 90)}, Told{}, "", "cm", ""},
		"a tape of two squares":       {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Spans: span(101)}, "grid 5cm", "squares of 5 cm make 100", calibrate.Confirmed},
		"a tape that fits neither":    {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Spans: span(140)}, "", "tape 140 mm", ""},
		"another photo of the set-up": {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Shown: []Shown{shown(five, true)}}, "grid 5cm", "card 7", calibrate.Confirmed},
		"two photos of it differ":     {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Shown: []Shown{shown(five, true), shown(ten, true)}}, "", "10 cm or 5 cm squares", ""},
		"another photo of another":    {[]Seen{lying(ten, 160), lying(five, 80)}, Told{Shown: []Shown{shown(five, false)}}, "", "10 cm or 5 cm squares", ""},
		"one grid, season.toml":       {[]Seen{lying(ten, 160)}, Told{}, "grid 10cm", "", calibrate.Assumed},
		"one grid, its set-up":        {[]Seen{lying(ten, 160)}, Told{PitchCm: 10.05, PitchBy: "set-up S1"}, "grid 10cm", "set-up S1", calibrate.Said},
		"one grid, another pitch":     {[]Seen{lying(ten, 160)}, Told{PitchCm: 5, PitchBy: "set-up S1"}, "", "grid 10cm: set-up S1 has a pitch of 5 cm", ""},
		"the same cells elsewhere":    {[]Seen{lying(ten, 160)}, Told{Shown: []Shown{shown(ten, false)}}, "grid 10cm", "card 7", calibrate.Confirmed},
		"other cells elsewhere":       {[]Seen{lying(ten, 160)}, Told{Shown: []Shown{{Photo: "a.jpg", Reference: ten, By: "card 7", Cells: [2]int{4, 4}}}}, "grid 10cm", "", calibrate.Assumed},
		"a tape of half the squares":  {[]Seen{lying(ten, 160)}, Told{Spans: span(101)}, "", "squares of 10 cm make 200", ""},
		"a tape a little off":         {[]Seen{lying(ten, 160)}, Told{Spans: span(185)}, "grid 10cm", "", calibrate.Assumed},
		"a place taped, half":         {[]Seen{lying(ten, 160)}, Told{Tapes: []figure.Tape{taped(160, 20, 100)}}, "", "tape 100 mm", ""},
		"a place taped, right":        {[]Seen{lying(ten, 160)}, Told{Tapes: []figure.Tape{taped(160, 20, 200)}}, "grid 10cm", "tape 200 mm", calibrate.Confirmed},
	} {
		var scaled []string
		for _, s := range Sizes(c.seen, c.told) {
			kind := s.Reference.Kind
			if kind == calibrate.KindCard || name == "a board beside a bar" && kind == calibrate.KindChecker {
				continue
			}
			if s.Plane == nil {
				if c.want == "" && (s.Refused == nil || !strings.Contains(s.Refused.Reason, c.says)) {
					t.Errorf("%s: %s is refused as %v, want %q", name, s.Reference, s.Refused, c.says)
				}
				continue
			}
			scaled = append(scaled, s.Reference.String())
			if s.Size == nil || s.Size.Known != c.known || !strings.Contains(s.Size.By, c.says) {
				t.Errorf("%s: size %+v, want %s by %q", name, s.Size, c.known, c.says)
			}
			if (name == "a tape a little off") != (s.Size != nil && len(s.Size.Against) > 0) {
				t.Errorf("%s: against it %v", name, s.Size.Against)
			}
		}
		if got := strings.Join(scaled, ", "); got != c.want {
			t.Errorf("%s: scaled by %q, want %q", name, got, c.want)
		}
	}
}

// taped is a tape along so many cm of a plane seen from distanceCm.
func taped(distanceCm, cm, mm float64) figure.Tape {
	level, _ := lying(ten, distanceCm).Plane.At(0)
	a, _ := level.Photo(0, 0)
	b, _ := level.Photo(cm, 0)
	return figure.Tape{From: "A", To: "B", LengthMm: mm, At: [2]calibrate.Point{a, b}}
}

// TestAPersonsScaleStands though what was typed of the set-up says something else, which is told.
func TestAPersonsScaleStands(t *testing.T) {
	s := lying(ten, 160)
	s.By = "AB"
	got := Sizes([]Seen{s}, Told{PitchCm: 5, PitchBy: "set-up S1"})[0]
	if got.Plane == nil || got.Size.Known != calibrate.Said || got.Size.By != "AB" || len(got.Size.Against) != 1 {
		t.Errorf("%+v, %v", got.Size, got.Refused)
	}
}

// TestSpanBetweenMiddles: squares are counted by letters and numbers; the strings' tolerance and the middles by eye are in U.
func TestSpanBetweenMiddles(t *testing.T) {
	for _, c := range []struct {
		from, to string
		mm       float64
		ok       bool
		within   bool
		gross    bool
	}{
		{"A1", "F6", 707, true, true, false},
		{"f6", "A1", 700, true, true, false},
		{"A1", "F6", 650, true, false, false},
		{"A1", "F6", 353, true, false, true},
		{"Z1", "AB1", 200, true, true, false},
		{"A1", "A1", 10, false, false, false},
		{"head", "F6", 650, false, false, false},
		{"102E 205N", "103E 205N", 1000, false, false, false},
		{"A0", "A5", 500, false, false, false},
	} {
		s, ok := SpanOf(c.from, c.to, c.mm, "AB")
		if ok != c.ok {
			t.Errorf("%s to %s: %v", c.from, c.to, ok)
		}
		if h := s.Hold(ten); ok && (h.Within != c.within || h.Gross != c.gross || h.GridMm.U < 6 || h.GridMm.U > 12) {
			t.Errorf("%s: within %v, gross %v", h, h.Within, h.Gross)
		}
	}
}

// TestRivalsAreOneGroup: two boards beside each other and a larger one seen in the marks of both are one group, whatever
// their order; which of them lay there is one question.
func TestRivalsAreOneGroup(t *testing.T) {
	left, right, whole := lying(must(calibrate.KindChecker, "5x5/2cm"), 60), lying(must(calibrate.KindChecker, "5x5/2cm"), 60), lying(must(calibrate.KindChecker, "11x5/3cm"), 90)
	for i := range right.Marks {
		right.Marks[i].At.YPx += 700
	}
	whole.Marks = slices.Concat(left.Marks, right.Marks)
	for _, order := range [][]Seen{{left, right, whole}, {whole, left, right}, {left, whole, right}} {
		if got := rivals(order); len(got) != 1 || len(got[0]) != 3 {
			t.Errorf("groups %v, want all three in one", got)
		}
	}
}

// TestSetUpOfADisplacedBlock: a photo of a block that lies no longer under the field's grid has its jacket's set-up only where
// a person says so.
func TestSetUpOfADisplacedBlock(t *testing.T) {
	sheets := &register.Register{SetUps: []register.SetUp{{Name: "S1", Jackets: []string{"21"}}}}
	for name, c := range map[string]struct {
		belongs assign.Belongs
		want    bool
	}{
		"in the field":    {assign.Belongs{Jackets: []string{"21"}, View: register.ViewGridded}, true},
		"opened":          {assign.Belongs{Jackets: []string{"21"}, View: register.ViewOpened}, false},
		"underside":       {assign.Belongs{Jackets: []string{"21"}, View: register.ViewUnderside}, false},
		"opened, as said": {assign.Belongs{Jackets: []string{"21"}, View: register.ViewOpened, SetUp: "S1"}, true},
	} {
		p := Photo{Record: &record.Record{Belongs: c.belongs}, Sheets: sheets}
		if got := p.OneSetUp(); (got != nil) != c.want {
			t.Errorf("%s: set-up %v, want one: %v", name, got, c.want)
		}
	}
}

// TestShareOfWholeFrames: without a set-up, what another photo confirms counts only where it shows the whole frame; as many
// cells in view may be those of another frame.
func TestShareOfWholeFrames(t *testing.T) {
	for name, c := range map[string]struct {
		cells [2]int // that the reference is said to have; 4 x 3 are in view
		want  int
	}{"not said": {[2]int{}, 0}, "more than in view": {[2]int{7, 6}, 0}, "the whole": {[2]int{4, 3}, 1}, "turned": {[2]int{3, 4}, 1}} {
		ref := must(calibrate.KindGrid, "10cm")
		ref.CellsAcross, ref.CellsDown = c.cells[0], c.cells[1]
		photo := func(file string, known calibrate.Known) *Photo {
			s := lying(ref, 160).Sighting
			s.Size = &calibrate.Size{Known: known, By: "card 7"}
			r := &record.Record{Sightings: []calibrate.Sighting{s}}
			r.Photo.File = file
			return &Photo{Record: r, Sheets: &register.Register{}}
		}
		photos := []*Photo{photo("a.jpg", calibrate.Confirmed), photo("b.jpg", calibrate.Assumed)}
		Share(photos, func(int) bool { return true }, []calibrate.Reference{ref})
		if got := len(photos[1].Shown); got != c.want {
			t.Errorf("%s: %d shown, want %d", name, got, c.want)
		}
	}
}
