package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// uCompassDeg is the standard uncertainty of a bearing taken with a hand compass along a string or an arrow laid by it:
// 3 degrees is the half-width of a rectangular distribution (common practice, no source).
const uCompassDeg = 3 / 1.7320508075688772

// Norths is how the norths lie to each other at the place and on the day; nil: not known.
type Norths struct {
	DeclinationDeg *calibrate.Quantity // of magnetic north from true north, east positive, U k = 2
	ConvergenceDeg *calibrate.Quantity // of grid north from true north, east positive
	Source         string              // of the declination: "WMM2025"
}

// A Bearing is an angle clockwise from a stated north.
type Bearing struct {
	Deg float64
	Of  register.North
}

// offset is what turns a bearing from its own north into a true one; false where that is not known. This is the only place
// where a declination is added, and what comes from it is Of true, to which nothing is added.
func (n Norths) offset(of register.North) (q calibrate.Quantity, how string, ok bool) {
	switch {
	case of == register.NorthTrue:
		return calibrate.Quantity{}, "", true
	case of == register.NorthMagnetic && n.DeclinationDeg != nil:
		q = *n.DeclinationDeg
		return q, fmt.Sprintf("declination %+.1f° (%s)", q.Value, n.Source), true
	case of == register.NorthGrid && n.ConvergenceDeg != nil:
		q = *n.ConvergenceDeg
		return q, fmt.Sprintf("grid convergence %+.1f°", q.Value), true
	}
	return q, "", false
}

// True is a bearing counted from true north; ok is false where its own north is not known or not known to lie anywhere.
func (n Norths) True(b Bearing) (deg float64, ok bool) {
	q, _, ok := n.offset(b.Of)
	return positiveDeg(b.Deg + q.Value), ok
}

// A Sense is what is known of north on a plate: where it points, which north it is, how sure that is.
type Sense struct {
	Lay
	Norths
	TurnDeg float64 // of north Of, clockwise from the plate's top
	UDeg    float64 // k = 2
	Of      register.North
	Source  string
}

// An Edge is the bearing of a set-up's edge, from the origin corner the way the letters run, and where that edge points in
// the photo.
type Edge struct {
	Bearing
	SetUp string
	Along *Arrow // nil: nobody said where the origin corner is
}

// North is the north of a plate from arrows in the photo, an edge's bearing, or all of them; nil with the reason where it is
// not known. It becomes true north where the norths tell how, and stays what it is where not. Any two of them that
// contradict each other give none; where they agree the first arrow counts.
func North(l Lay, arrows []NorthArrow, edge *Edge, n Norths) (*Sense, string) {
	var senses []*Sense
	why := "nothing in the picture or the register tells it"
	for _, arrow := range arrows {
		if turn, ok := l.turnDeg(arrow.Arrow); ok {
			s, reason := sense(l, n, turn, Bearing{0, arrow.Of}, arrow.From)
			if why = reason; s != nil {
				senses = append(senses, s)
			}
		}
	}
	if edge != nil {
		var s *Sense
		reason := fmt.Sprintf("set-up %s has the bearing of its edge, but nobody marked its origin corner in this photo", edge.SetUp)
		if edge.Along != nil {
			if turn, ok := l.turnDeg(*edge.Along); ok {
				s, reason = sense(l, n, turn, edge.Bearing, "edge of set-up "+edge.SetUp)
			}
		}
		if why = reason; s != nil {
			senses = append(senses, s)
		}
	}
	if len(senses) == 0 {
		return nil, why
	}
	for i, b := range senses {
		for _, a := range senses[:i] {
			if d := apartDeg(a.TurnDeg, b.TurnDeg); a.Of == b.Of && d > max(10, math.Hypot(a.UDeg, b.UDeg)) {
				return nil, fmt.Sprintf("%s and %s are %.0f° apart: one of them is wrong", a.Source, b.Source, d)
			}
		}
	}
	return senses[0], ""
}

// sense makes north of a direction on the plate whose bearing is known.
func sense(l Lay, n Norths, turnDeg float64, b Bearing, from string) (*Sense, string) {
	if b.Of == register.NorthUnknown || b.Of == "" {
		return nil, from + ": nobody wrote down whether it counts from magnetic, true or grid north"
	}
	s := &Sense{Lay: l, Norths: n, Of: b.Of, Source: from}
	if b.Deg != 0 {
		s.Source += fmt.Sprintf(", %.4g° %s", b.Deg, b.Of)
	}
	q, how, ok := n.offset(b.Of)
	deg := b.Deg
	if ok && b.Of != register.NorthTrue {
		deg, s.Of = b.Deg+q.Value, register.NorthTrue
		s.Source += ", " + how
	}
	s.TurnDeg = l.turnOf(-deg, turnDeg)
	s.UDeg = math.Hypot(2*uCompassDeg, q.U)
	return s, ""
}

// Arrow is the north arrow that the plate prints.
func (s *Sense) Arrow() *look.North {
	text := map[register.North]string{register.NorthTrue: "TRUE NORTH", register.NorthMagnetic: "MAGNETIC NORTH", register.NorthGrid: "GRID NORTH"}[s.Of]
	source := fmt.Sprintf("± %.0f° (k = 2): %s", math.Ceil(s.UDeg), s.Source)
	switch s.Of {
	case register.NorthMagnetic:
		source += "; its declination is not known here, so this is not true north"
	case register.NorthGrid:
		source += "; its convergence is not known here, so this is not true north"
	}
	return &look.North{ClockwiseFromUpDeg: s.TurnDeg, Text: text, Source: source}
}

// turnOfBearing is where a bearing points on the plate; false where its north cannot be compared with the plate's.
func (s *Sense) turnOfBearing(b Bearing) (deg float64, ok bool) {
	if b.Of == s.Of && b.Of != "" && b.Of != register.NorthUnknown {
		return s.turnOf(b.Deg, s.TurnDeg), true
	}
	deg, ok = s.True(b)
	return s.turnOf(deg, s.TurnDeg), ok && s.Of == register.NorthTrue
}
