package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// flat is a photo without scale, whose plate pixels are its own.
func flat() Lay {
	return Lay{Picture: look.Picture{WidthPx: 1000, HeightPx: 800, From: [6]float64{1, 0, 0, 0, 1, 0}}}
}

func quantity(v float64) *calibrate.Quantity { return &calibrate.Quantity{Value: v, U: 0.8} }

// An arrow up the picture, stated as magnetic, true or grid north, with a declination of 12° E and a convergence of -1.5°: three
// different norths, each turned once or not at all. true = magnetic + D; true = grid + convergence (GeoConvert(1): the
// bearing of grid north, clockwise from true north).
func TestNorthIsTurnedOnce(t *testing.T) {
	up := Arrow{Tail: calibrate.Point{XPx: 500, YPx: 700}, Head: calibrate.Point{XPx: 500, YPx: 100}}
	both := Norths{DeclinationDeg: quantity(12), ConvergenceDeg: quantity(-1.5), Source: "invented"}
	for _, c := range []struct {
		of       register.North
		n        Norths
		turn     float64 // of the arrow drawn
		mirrored float64
		text     string
	}{
		{register.NorthTrue, both, 0, 0, "TRUE NORTH"},
		{register.NorthMagnetic, both, 348, 12, "TRUE NORTH"},
		{register.NorthGrid, both, 1.5, 358.5, "TRUE NORTH"},
		{register.NorthMagnetic, Norths{}, 0, 0, "MAGNETIC NORTH"},
		{register.NorthGrid, Norths{DeclinationDeg: quantity(12)}, 0, 0, "GRID NORTH"},
		{register.NorthTrue, Norths{}, 0, 0, "TRUE NORTH"},
	} {
		for _, l := range []Lay{flat(), flat().Mirror()} {
			s, why := North(l, []NorthArrow{{up, c.of, "an arrow"}}, nil, c.n)
			want := c.turn
			if l.Mirrored {
				want = c.mirrored
			}
			if s == nil || apartDeg(s.TurnDeg, want) > 1e-9 || s.Arrow().Text != c.text {
				t.Errorf("%s, mirrored %t: %+v %q, want %s at %g°", c.of, l.Mirrored, s, why, c.text, want)
				continue
			}
			if mag := c.text == "MAGNETIC NORTH"; strings.Contains(s.Arrow().Source, "not true north") != (mag || c.text == "GRID NORTH") {
				t.Errorf("%s says %q", c.text, s.Arrow().Source)
			}
			// What the sense says of a bearing of its own kind, and of a true one, stays what it is.
			if turn, ok := s.turnOfBearing(Bearing{90, s.Of}); !ok || apartDeg(l.bearingDeg(turn, s.TurnDeg), 90) > 1e-9 {
				t.Errorf("%s: 90° of the same north is drawn at %g°", c.text, turn)
			}
		}
	}
	for _, of := range []register.North{register.NorthUnknown, ""} {
		if s, why := North(flat(), []NorthArrow{{up, of, "an arrow"}}, nil, both); s != nil || why == "" {
			t.Errorf("north %q is drawn", of)
		}
	}
}

// An arrow and an edge that contradict each other draw nothing; an edge without its corner marked neither.
func TestContradictingNorths(t *testing.T) {
	up := Arrow{Tail: calibrate.Point{XPx: 500, YPx: 700}, Head: calibrate.Point{XPx: 500, YPx: 100}}
	arrow := []NorthArrow{{up, register.NorthTrue, "an arrow"}}
	for deg, drawn := range map[float64]bool{0: true, 6: true, 20: false, 180: false, 354: true} {
		s, why := North(flat(), arrow, &Edge{Bearing{deg, register.NorthTrue}, "S1", &up}, Norths{})
		if (s != nil) != drawn || s == nil && !strings.Contains(why, "apart") {
			t.Errorf("edge at %g°: drawn %t, %q", deg, s != nil, why)
		}
	}
	aside := NorthArrow{Arrow{Tail: up.Tail, Head: calibrate.Point{XPx: 800, YPx: 400}}, register.NorthTrue, "another"}
	if s, why := North(flat(), append(arrow, aside), &Edge{Bearing{0, register.NorthTrue}, "S1", &up}, Norths{}); s != nil || !strings.Contains(why, "an arrow and another are 45° apart") {
		t.Errorf("two arrows that contradict each other: %v, %q", s, why)
	}
	if s, why := North(flat(), nil, &Edge{Bearing{90, register.NorthTrue}, "S1", nil}, Norths{}); s != nil || !strings.Contains(why, "origin corner") {
		t.Errorf("%v, %q", s, why)
	}
}

func TestQuarrySquares(t *testing.T) {
	for _, c := range []struct {
		runs        string
		clockwise   bool
		first, last string // of the first column, and of the first row
	}{
		{"east", false, "102E", "205N"}, {"east", true, "102E", "204N"}, {"north", true, "205N", "102E"}, {"west", true, "101E", "205N"}, {"S", false, "204N", "102E"},
	} {
		s := &Squares{pitchCm: 100}
		if reason := s.name(register.SetUp{OriginCorner: "102E 205N", LettersRun: c.runs}, c.clockwise); reason != "" {
			t.Fatal(reason)
		}
		if got := s.columns.label(0); got != c.first {
			t.Errorf("%s, clockwise %t: the first column is %s, want %s", c.runs, c.clockwise, got, c.first)
		}
		if got := s.rows.label(0); got != c.last {
			t.Errorf("%s, clockwise %t: the first row is %s, want %s", c.runs, c.clockwise, got, c.last)
		}
	}
	if reason := (&Squares{pitchCm: 100}).name(register.SetUp{OriginCorner: "102E 205N"}, true); reason == "" {
		t.Error("a quarry's corner without a direction is named")
	}
	a := axis{letters: true}
	if a.label(0) != "A" || a.label(25) != "Z" || a.label(26) != "AA" {
		t.Errorf("letters: %s %s %s", a.label(0), a.label(25), a.label(26))
	}
}

func TestTapeChecks(t *testing.T) {
	p := square(150)
	level, _ := p.At(0)
	a, _ := level.Photo(-20, 0)
	b, _ := level.Photo(20.5, 0)
	for mm, within := range map[float64]bool{405: true, 407: true, 412: false, 390: false} {
		got := Checks(p, Depth{}, []Tape{{"A1", "F6", mm, [2]calibrate.Point{a, b}}})
		if len(got) != 1 || got[0].Within != within || math.Abs(got[0].PlateMm.Value-405) > 0.01 {
			t.Errorf("tape %g mm: %v", mm, got)
		}
	}
	// The same length below the strings is longer, and less sure.
	deep := Checks(p, Depth{Cm: 10}, []Tape{{"A1", "F6", 432, [2]calibrate.Point{a, b}}})
	if len(deep) != 1 || !deep[0].Within || math.Abs(deep[0].PlateMm.Value-405*16/15.0) > 0.01 {
		t.Errorf("10 cm below: %v", deep)
	}
}

// An outline goes by the squares: the jacket was photographed from the other side, from higher, with its strings numbered
// otherwise.
func TestUnderThePlaster(t *testing.T) {
	exposed, jacket := square(150), square(200)
	h := &jacket.Homography
	h[0], h[4] = -h[0], -h[4]
	origin := func(p *calibrate.Plane, u, v, toU, toV float64) *Origin {
		l, _ := p.At(0)
		c, _ := l.Photo(u, v)
		to, _ := l.Photo(toU, toV)
		return &Origin{Corner: c, LettersTo: &to}
	}
	a, why := SquaresOf(exposed, 10, register.SetUp{}, origin(exposed, -50, -50, 0, -50))
	if why != "" {
		t.Fatal(why)
	}
	b, why := SquaresOf(jacket, 10, register.SetUp{}, origin(jacket, -50, -50, 0, -50))
	if why != "" {
		t.Fatal(why)
	}
	below, _ := exposed.At(8)
	o := Outline{Name: "femur"}
	want := [][2]float64{{-20, -10}, {15, -5}, {10, 12}}
	for _, q := range want {
		p, _ := below.Photo(q[0], q[1])
		o.Points = append(o.Points, p)
	}
	l := Lay{Picture: look.Picture{WidthPx: 1000, HeightPx: 1000, Plane: jacket, From: [6]float64{0.1, 0, -50, 0, 0.1, -50}}}
	line, ok := Under(o, a, 8, b, l)
	if !ok || len(line.Through) != 3 || line.Text != "bone here: femur" {
		t.Fatalf("%v %t", line, ok)
	}
	for i, q := range want {
		if x, y := l.OfPlane(q[0], q[1]); math.Hypot(line.Through[i][0]-x, line.Through[i][1]-y) > 1e-6 {
			t.Errorf("point %d lies at %v, want (%g, %g)", i, line.Through[i], x, y)
		}
	}
	for name, bad := range map[string]*Origin{
		"no corner": origin(exposed, -47, -46, 0, -50), "in the middle": origin(exposed, 0, 0, 20, 0), "aslant": origin(exposed, -50, -50, 0, 0), "none": nil,
	} {
		if _, why := SquaresOf(exposed, 10, register.SetUp{}, bad); why == "" {
			t.Errorf("%s: squares are named", name)
		}
	}
}
