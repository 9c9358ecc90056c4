package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// near reports whether a label stands at a place and a margin.
func near(l look.Label, x, y float64, side string) bool {
	return math.Hypot(l.XPx-x, l.YPx-y) < 1e-6 && l.Side == side
}

// By the axis bearing B stands where the bearing leaves the picture, A across from it: 1000 x 800 px, north at the top or turned.
func TestEndsByTheirBearing(t *testing.T) {
	for _, c := range []struct {
		deg, northTurn float64
		bx, by         float64
		side           string
	}{
		{0, 0, 499.5, 0, "top"}, {90, 0, 999, 399.5, "right"}, {180, 0, 499.5, 799, "bottom"}, {270, 0, 0, 399.5, "left"},
		{45, 0, 899, 0, "top"}, {135, 0, 899, 799, "bottom"}, {60, 0, 999, 399.5 - 499.5/math.Sqrt(3), "right"}, {90, 90, 499.5, 799, "bottom"},
	} {
		deg := c.deg
		f := []register.Find{{FieldNumber: "21", EndA: "proximal", EndB: "distal", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthTrue}}
		north := &Sense{Lay: flat(), Of: register.NorthTrue, TurnDeg: c.northTurn}
		labels, against := Ends(flat(), f, nil, nil, north, nil)
		if len(labels) != 2 || len(against) > 0 {
			t.Fatalf("%g°: %v, %q", c.deg, labels, against)
		}
		a, b := labels[0], labels[1]
		if b.Text != "distal end (by its bearing)" || a.Text != "proximal end (by its bearing)" {
			t.Errorf("%g°: %q and %q", c.deg, a.Text, b.Text)
		}
		if !near(b, c.bx, c.by, c.side) || math.Hypot(a.XPx-(999-c.bx), a.YPx-(799-c.by)) > 1e-6 || a.Side == b.Side {
			t.Errorf("%g°, north at %g°: B at (%.1f, %.1f) %s, A at (%.1f, %.1f) %s, want B at (%.1f, %.1f) %s", c.deg, c.northTurn, b.XPx, b.YPx, b.Side, a.XPx, a.YPx, a.Side, c.bx, c.by, c.side)
		}
	}
	deg := 90.0
	for name, c := range map[string]struct {
		find  register.Find
		north *Sense
	}{
		"no name of an end": {register.Find{FieldNumber: "21", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthTrue}, &Sense{Lay: flat(), Of: register.NorthTrue}},
		"no bearing":        {register.Find{FieldNumber: "21", EndA: "proximal"}, &Sense{Lay: flat(), Of: register.NorthTrue}},
		"no north":          {register.Find{FieldNumber: "21", EndA: "proximal", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthTrue}, nil},
		"another north":     {register.Find{FieldNumber: "21", EndA: "proximal", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthMagnetic}, &Sense{Lay: flat(), Of: register.NorthTrue}},
		"an unknown north":  {register.Find{FieldNumber: "21", EndA: "proximal", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthUnknown}, &Sense{Lay: flat(), Of: register.NorthUnknown}},
	} {
		if labels, _ := Ends(flat(), []register.Find{c.find}, nil, nil, c.north, nil); len(labels) > 0 {
			t.Errorf("%s: %v is drawn", name, labels)
		}
	}
	one := register.Find{FieldNumber: "21", EndB: "distal", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthTrue}
	if labels, _ := Ends(flat(), []register.Find{one}, nil, nil, &Sense{Lay: flat(), Of: register.NorthTrue}, nil); len(labels) != 2 || labels[0].Text != "end 1 (by its bearing)" {
		t.Errorf("one name: %v", labels)
	}
}

// Marked ends stand where they were marked; each find has its own, and a mark without a find counts only where there is one find.
func TestMarkedEnds(t *testing.T) {
	two := []register.Find{{FieldNumber: "21", EndA: "proximal"}, {FieldNumber: "22"}}
	ends := []End{{"21", "1", at(100, 410)}, {"21", "2", at(800, 390)}, {"22", "1", at(300, 700)}, {"", "2", at(5, 5)}}
	labels, against := Ends(flat(), two, ends, nil, nil, nil)
	if len(labels) != 3 || len(against) > 0 {
		t.Fatalf("%v, %q", labels, against)
	}
	for i, want := range []look.Label{{XPx: 100, YPx: 410, Side: "left", Text: "21: proximal end"}, {XPx: 800, YPx: 390, Side: "right", Text: "21: end 2"}, {XPx: 300, YPx: 700, Side: "bottom", Text: "22: end 1"}} {
		if labels[i] != want {
			t.Errorf("%+v, want %+v", labels[i], want)
		}
	}
	// One end alone stands in the margin away from the picture's middle (500, 400).
	for p, side := range map[[2]float64]string{{420, 310}: "top", {400, 320}: "left", {600, 480}: "right", {580, 490}: "bottom"} {
		labels, _ := Ends(flat(), two[:1], []End{{"", "1", at(p[0], p[1])}}, nil, nil, nil)
		if len(labels) != 1 || !near(labels[0], p[0], p[1], side) || labels[0].Text != "proximal end" {
			t.Errorf("an end at %v alone: %+v, want the %s", p, labels, side)
		}
	}
}

// Marks, arrow and bearing may differ by 35 degrees and no more.
func TestHowFarEndsMayDiffer(t *testing.T) {
	marked := []End{{"", "1", at(200, 400)}, {"", "2", at(800, 400)}} // B to the right, 90°
	right := &EndArrow{Arrow: Arrow{at(400, 400), at(600, 400)}, To: "2", From: "card 5's arrow"}
	for off, agrees := range map[float64]bool{0: true, 34: true, -34: true, 36: false, -36: false, 180: false} {
		deg := 90 + off
		finds := []register.Find{{FieldNumber: "21", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthTrue, EndA: "proximal"}}
		north := &Sense{Lay: flat(), Of: register.NorthTrue}
		sin, cos := math.Sincos(deg * math.Pi / 180)
		aside := &EndArrow{Arrow: Arrow{at(500, 400), at(500+100*sin, 400-100*cos)}, To: "2", From: "card 5's arrow"}
		for name, c := range map[string]struct {
			ends  []End
			arrow *EndArrow
			north *Sense
		}{"marks and bearing": {marked, nil, north}, "arrow and bearing": {nil, right, north}, "marks and arrow": {marked, aside, nil}} {
			labels, against := Ends(flat(), finds, c.ends, c.arrow, c.north, nil)
			if (len(labels) == 2) != agrees || (len(against) == 0) != agrees {
				t.Errorf("%s, %g° apart: %v, %q", name, off, labels, against)
			}
		}
	}
	deg := 250.0
	finds := []register.Find{{FieldNumber: "21", AxisBearingAToBDeg: &deg, BearingNorth: register.NorthMagnetic}}
	north := &Sense{Lay: flat(), Norths: Norths{DeclinationDeg: quantity(10)}, Of: register.NorthTrue, TurnDeg: 20}
	_, against := Ends(flat(), finds, marked, nil, north, nil)
	if want := "ends of 21: as marked, end 2 lies to 70° true from end 1 by the plate's north; the finds sheet says 250° magnetic, which is 260° true: one of them is turned round or wrong"; len(against) != 1 || against[0] != (Against{"21", want}) {
		t.Errorf("%q, want %q", against, want)
	}
}

// The three ups point where they were marked, the other way round on a mirrored plate.
func TestUps(t *testing.T) {
	ups := []Up{{Arrow{at(100, 100), at(200, 100)}, FieldTop, "set by RKA"}, {Arrow{at(5, 5), at(5, 5)}, WayUp, "set by RKA"}}
	for _, c := range []struct {
		lay  Lay
		want float64
	}{{flat(), 90}, {flat().Mirror(), 270}} {
		got := Ups(c.lay, ups)
		if len(got) != 1 || got[0].Text != FieldTop || got[0].Source != "set by RKA" || math.Abs(got[0].ClockwiseFromUpDeg-c.want) > 1e-9 {
			t.Errorf("mirrored %t: %+v, want %g°", c.lay.Mirrored, got, c.want)
		}
	}
}

// A face's bearing counts from true north where the norths are known, and is not told where its edge runs up or down.
func TestFaceByTheNorths(t *testing.T) {
	edge := func(turn float64) *Arrow {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return &Arrow{at(500, 400), at(500+300*sin, 400-300*cos)}
	}
	known := Norths{DeclinationDeg: quantity(12), Source: "invented"}
	for _, c := range []struct {
		lay  Lay
		edge *Edge
		n    Norths
		want string
	}{
		{flat(), &Edge{Bearing{90, register.NorthMagnetic}, "S1", edge(90)}, known, "looks towards 192° true, ± 4° (k = 2), by the edge of set-up S1 at 90° magnetic"},
		{flat(), &Edge{Bearing{90, register.NorthMagnetic}, "S1", edge(90)}, Norths{}, "looks towards 180° magnetic"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(119)}, Norths{}, "looks towards 180° true"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(61)}, Norths{}, "looks towards 180° true"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(241)}, Norths{}, "looks towards 0° true"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(299)}, Norths{}, "looks towards 0° true"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(121)}, Norths{}, "does not run level"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(239)}, Norths{}, "does not run level"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(0)}, Norths{}, "does not run level"},
		{flat().Mirror(), &Edge{Bearing{90, register.NorthTrue}, "S1", edge(90)}, Norths{}, "looks towards 180° true"}, // the face is the same, whichever side the plate is seen from
		{flat(), &Edge{Bearing{90, register.NorthUnknown}, "S1", edge(90)}, Norths{}, "nobody wrote down which north"},
		{flat(), &Edge{Bearing{90, ""}, "S1", edge(90)}, Norths{}, "nobody wrote down which north"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", nil}, Norths{}, "nobody marked the origin corner"},
		{flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", &Arrow{}}, Norths{}, "does not run level"},
		{flat(), nil, Norths{}, "nobody wrote down the bearing"},
	} {
		if got := Face(c.lay, c.edge, c.n); !strings.Contains(got, c.want) {
			t.Errorf("%+v: %q, want %q", c.edge, got, c.want)
		}
	}
}
