package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// A bearing becomes true by adding how far its own north lies east of true north, once.
func TestTrueBearing(t *testing.T) {
	n := Norths{DeclinationDeg: quantity(12), ConvergenceDeg: quantity(-1.5)}
	for _, c := range []struct {
		b    Bearing
		n    Norths
		want float64
		ok   bool
	}{
		{Bearing{100, register.NorthTrue}, Norths{}, 100, true}, {Bearing{100, register.NorthMagnetic}, n, 112, true}, {Bearing{100, register.NorthGrid}, n, 98.5, true},
		{Bearing{355, register.NorthMagnetic}, n, 7, true}, {Bearing{100, register.NorthMagnetic}, Norths{ConvergenceDeg: quantity(3)}, 100, false},
		{Bearing{100, register.NorthGrid}, Norths{DeclinationDeg: quantity(3)}, 100, false}, {Bearing{100, register.NorthUnknown}, n, 100, false}, {Bearing{100, ""}, n, 100, false},
	} {
		if got, ok := c.n.True(c.b); math.Abs(got-c.want) > 1e-9 || ok != c.ok {
			t.Errorf("%+v is %g° true, %t, want %g°, %t", c.b, got, ok, c.want, c.ok)
		}
	}
}

// An edge's bearing gives north: an edge to the right that bears 90° has north at the top; what is known of the norths is said and
// goes into U.
func TestNorthByAnEdge(t *testing.T) {
	right := &Arrow{at(200, 400), at(800, 400)}
	for _, c := range []struct {
		deg  float64
		of   register.North
		lay  Lay
		want float64
		says string
	}{
		{90, register.NorthTrue, flat(), 0, "edge of set-up S1, 90° true"}, {0, register.NorthTrue, flat(), 90, "edge of set-up S1"}, {120, register.NorthTrue, flat(), 330, "120° true"},
		{90, register.NorthMagnetic, flat(), 348, "90° magnetic, declination +12.0° (invented)"}, {90, register.NorthGrid, flat(), 1.5, "90° grid, grid convergence -1.5°"},
		{90, register.NorthTrue, flat().Mirror(), 0, ""}, {120, register.NorthTrue, flat().Mirror(), 30, ""},
	} {
		s, why := North(c.lay, nil, &Edge{Bearing{c.deg, c.of}, "S1", right}, Norths{DeclinationDeg: quantity(12), ConvergenceDeg: quantity(-1.5), Source: "invented"})
		if s == nil || apartDeg(s.TurnDeg, c.want) > 1e-9 || !strings.Contains(s.Source, c.says) || s.Of != register.NorthTrue {
			t.Errorf("%+v: %+v, %q", c, s, why)
			continue
		}
		u := math.Hypot(2*3/math.Sqrt(3), 0.8) // a compass good to 3° either way, k = 2, and the declination's own
		if c.of == register.NorthTrue {
			u = 2 * 3 / math.Sqrt(3)
		}
		if math.Abs(s.UDeg-u) > 1e-9 || !strings.HasPrefix(s.Arrow().Source, "± 4° (k = 2): edge of set-up S1") || s.Arrow().ClockwiseFromUpDeg != s.TurnDeg {
			t.Errorf("%+v: ± %.3f, want %.3f; %+v", c, s.UDeg, u, s.Arrow())
		}
	}
	if s, why := North(flat(), nil, &Edge{Bearing{90, register.NorthUnknown}, "S1", right}, Norths{}); s != nil || !strings.Contains(why, "nobody wrote down whether") {
		t.Errorf("an unknown north: %+v, %q", s, why)
	}
	if s, why := North(flat(), nil, nil, Norths{}); s != nil || !strings.Contains(why, "nothing in the picture") {
		t.Errorf("nothing: %+v, %q", s, why)
	}
	if s, _ := North(flat(), nil, &Edge{Bearing{90, register.NorthTrue}, "S1", &Arrow{}}, Norths{}); s != nil {
		t.Errorf("an edge of no length: %+v", s)
	}
}

// Two signs of north may differ by 10 degrees, or by their U together where that is more; norths that cannot be compared are not.
func TestHowFarNorthsMayDiffer(t *testing.T) {
	arrow := func(deg float64, of register.North) NorthArrow {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return NorthArrow{Arrow{at(500, 400), at(500+300*sin, 400-300*cos)}, of, "an arrow"}
	}
	for off, drawn := range map[float64]bool{9.9: true, -9.9: true, 10.1: false, -10.1: false, 180: false} {
		if s, _ := North(flat(), []NorthArrow{arrow(0, register.NorthTrue), arrow(off, register.NorthTrue)}, nil, Norths{}); (s != nil) != drawn || s != nil && s.TurnDeg != 0 {
			t.Errorf("%g° apart: %+v", off, s)
		}
	}
	unsure := Norths{DeclinationDeg: &calibrate.Quantity{Value: 0, U: 12}}
	for off, drawn := range map[float64]bool{17: true, 18: false} { // hypot of two times hypot(3.46, 12) = 17.66
		if s, _ := North(flat(), []NorthArrow{arrow(0, register.NorthMagnetic), arrow(off, register.NorthMagnetic)}, nil, unsure); (s != nil) != drawn {
			t.Errorf("%g° apart with a declination known to 12°: %+v", off, s)
		}
	}
	if s, _ := North(flat(), []NorthArrow{arrow(0, register.NorthTrue), arrow(40, register.NorthMagnetic)}, nil, Norths{}); s == nil || s.Of != register.NorthTrue {
		t.Errorf("a true and a magnetic north that nobody can compare: %+v", s)
	}
	if s, _ := North(flat(), []NorthArrow{arrow(0, register.NorthUnknown), arrow(40, register.NorthTrue)}, nil, Norths{}); s == nil || apartDeg(s.TurnDeg, 40) > 1e-9 {
		t.Errorf("the second arrow alone is known: %+v", s)
	}
}

// A bearing of another north is drawn only where both can be made true.
func TestBearingsOnThePlate(t *testing.T) {
	n := Norths{DeclinationDeg: quantity(12)}
	for _, c := range []struct {
		s    Sense
		b    Bearing
		want float64
		ok   bool
	}{
		{Sense{Lay: flat(), Of: register.NorthTrue, TurnDeg: 30, Norths: n}, Bearing{100, register.NorthTrue}, 130, true},
		{Sense{Lay: flat(), Of: register.NorthTrue, TurnDeg: 30, Norths: n}, Bearing{100, register.NorthMagnetic}, 142, true},
		{Sense{Lay: flat(), Of: register.NorthMagnetic, TurnDeg: 30}, Bearing{100, register.NorthMagnetic}, 130, true},
		{Sense{Lay: flat(), Of: register.NorthMagnetic, TurnDeg: 30, Norths: n}, Bearing{100, register.NorthTrue}, 0, false},
		{Sense{Lay: flat(), Of: register.NorthTrue, TurnDeg: 30}, Bearing{100, register.NorthGrid}, 0, false},
		{Sense{Lay: flat(), Of: register.NorthUnknown, TurnDeg: 30}, Bearing{100, register.NorthUnknown}, 0, false},
		{Sense{Lay: flat(), Of: "", TurnDeg: 30}, Bearing{100, ""}, 0, false},
	} {
		if got, ok := c.s.turnOfBearing(c.b); ok != c.ok || ok && math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v on a plate whose %s north is at 30°: %g°, %t, want %g°, %t", c.b, c.s.Of, got, ok, c.want, c.ok)
		}
	}
}
