package figure

import (
	"fmt"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// TestAnArrowTellsTheEnds: laid to the right towards an end, as seen and
// mirrored; what marks and the axis bearing say against it is told, and
// nothing drawn.
func TestAnArrowTellsTheEnds(t *testing.T) {
	at := func(x, y float64) calibrate.Point { return calibrate.Point{XPx: x, YPx: y} }
	right := Arrow{Tail: at(400, 400), Head: at(600, 400)}
	up := Arrow{Tail: at(500, 700), Head: at(500, 100)}
	one := []register.Find{{FieldNumber: "21", EndA: "proximal", EndB: "distal"}}
	two := append([]register.Find{{FieldNumber: "22"}}, one...)
	bearing := func(deg float64) []register.Find {
		f := one[0]
		f.AxisBearingAToBDeg, f.BearingNorth = &deg, register.NorthTrue
		return []register.Find{f}
	}
	marked := []End{{End: "1", At: at(800, 400)}, {End: "2", At: at(200, 400)}}
	for name, c := range map[string]struct {
		lay     Lay
		finds   []register.Find
		ends    []End
		to      string
		right   string // what stands at the right margin
		against string
	}{
		"to B":                 {flat(), one, nil, "2", "distal end (by card 5's arrow)", ""},
		"to A":                 {flat(), one, nil, "1", "proximal end (by card 5's arrow)", ""},
		"mirrored":             {flat().Mirror(), one, nil, "2", "proximal end (by card 5's arrow)", ""},
		"two finds":            {flat(), two, nil, "2", "", ""},
		"the bearing agrees":   {flat(), bearing(95), nil, "2", "distal end (by card 5's arrow)", ""},
		"the bearing differs":  {flat(), bearing(275), nil, "2", "", "one of them is turned round"},
		"marks go before":      {flat(), one, marked, "1", "proximal end", ""},
		"marks contradict":     {flat(), one, marked, "2", "", "as marked, end 2 lies another way"},
		"one end marked alone": {flat(), one, marked[:1], "2", "proximal end", ""},
	} {
		north, _ := North(c.lay, []NorthArrow{{up, register.NorthTrue, "an arrow"}}, nil, Norths{})
		labels, against := Ends(c.lay, c.finds, c.ends, &EndArrow{right, c.to, "card 5's arrow"}, north, nil)
		got := ""
		for _, l := range labels {
			if l.Side == "right" {
				got = l.Text
			}
		}
		if got != c.right || (c.against == "") != (len(against) == 0) || !strings.Contains(fmt.Sprint(against), c.against) {
			t.Errorf("%s: %q at the right, want %q; against %q, want %q", name, got, c.right, against, c.against)
		}
		if c.against != "" && len(labels) > 0 {
			t.Errorf("%s: drawn all the same: %v", name, labels)
		}
	}
}

// A marked end's name stands in the margin away from the other end, and leaves those of the squares' names alone.
func TestEndsLeaveTheSquaresTheirMargins(t *testing.T) {
	p := square(150)
	level, _ := p.At(0)
	at := func(u, v float64) calibrate.Point { q, _ := level.Photo(u, v); return q }
	l := Lay{Picture: look.Picture{WidthPx: 1000, HeightPx: 1000, Plane: p, From: [6]float64{0.12, 0, -60, 0, 0.12, -60}}}
	ends := []End{{End: "1", At: at(-30, 5)}, {End: "2", At: at(30, -5)}}
	to := at(0, -50)
	s, why := SquaresOf(p, 10, register.SetUp{}, &Origin{Corner: at(-50, -50), LettersTo: &to}) // letters at the top, numbers at the left
	if why != "" {
		t.Fatal(why)
	}
	for _, c := range []struct {
		squares *Squares
		a, b    string
	}{{nil, "left", "right"}, {s, "bottom", "right"}} {
		labels, _ := Ends(l, []register.Find{{FieldNumber: "21"}}, ends, nil, nil, c.squares)
		if len(labels) != 2 || labels[0].Side != c.a || labels[1].Side != c.b {
			t.Errorf("%+v, want A at the %s and B at the %s", labels, c.a, c.b)
		}
	}
	if side := s.Beside(l); side != "right" {
		t.Errorf("free of squares is the %s", side)
	}
	// Turned by 45 degrees both edges face the top alike; their names do not share a margin.
	l.Picture.From = [6]float64{0.08, 0.08, -80, -0.08, 0.08, 0}
	if sides := s.sides(l); sides[0] == sides[1] {
		t.Errorf("letters and numbers stand at the %s together", sides[0])
	}
}

// Who stands before a face that looks to the south has the east on his right.
func TestFace(t *testing.T) {
	right := Arrow{Tail: calibrate.Point{XPx: 100, YPx: 400}, Head: calibrate.Point{XPx: 900, YPx: 420}}
	left := Arrow{Tail: right.Head, Head: right.Tail}
	for _, c := range []struct {
		along Arrow
		deg   float64
		want  string
	}{{right, 90, "towards 180° true, ± 4° (k = 2)"}, {left, 270, "towards 180° true"}, {right, 350, "towards 80° true"}} {
		if got := Face(flat(), &Edge{Bearing{c.deg, register.NorthTrue}, "S1", &c.along}, Norths{}); !strings.Contains(got, c.want) {
			t.Errorf("%g°: %q, want %q", c.deg, got, c.want)
		}
	}
	steep := Arrow{Tail: right.Tail, Head: calibrate.Point{XPx: 120, YPx: 100}}
	if got := Face(flat(), &Edge{Bearing{90, register.NorthTrue}, "S1", &steep}, Norths{}); got != "its marked edge does not run level in this photo" {
		t.Errorf("an edge up the face gives %q", got)
	}
}
