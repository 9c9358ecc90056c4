package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A Length is how long something is by one photo, as seen square on the reference's plane. It never stands without the
// level that it holds on: Says is what to print.
type Length struct {
	Find    string `json:"find,omitempty"`    // field number; "": of an outline
	Outline string `json:"outline,omitempty"` // its name; "": of a find
	What    string `json:"what"`              // "proximal end to distal end", [GreatestLength], [WidthAcross]
	Photo   string `json:"photo,omitempty"`   // slash path below photos/

	Cm            *float64 `json:"cm,omitempty"`              // on the bone; nil: how deep it lies is not known
	AtReferenceCm *float64 `json:"at_reference_cm,omitempty"` // where that is not known: at the level of the reference only
	UCm           float64  `json:"u_cm"`                      // of either, k = 2

	Below         string   `json:"below,omitempty"`                      // "4.3 cm below the strings"
	LongerPercent *float64 `json:"longer_percent_10_cm_below,omitempty"` // where the depth is not known; nil: the photo does not tell

	Size calibrate.Known `json:"size,omitempty"` // how the size of the reference is known
	But  []string        `json:"but,omitempty"`  // what else is to be minded, a sentence each
	Says string          `json:"says"`           // "45.2 ± 1.1 cm at bone level (4.3 cm below the strings)"
}

// Short is what to print where the level's depth stands beside it or is in the way: "45.2 ± 1.1 cm at bone level"; all of Says where the
// length holds at the level of the reference only.
func (l Length) Short() string {
	if l.Cm == nil {
		return l.Says
	}
	return fmt.Sprintf("%s cm at bone level", calibrate.Quantity{Value: *l.Cm, U: l.UCm})
}

// What is measured of an outline.
const (
	GreatestLength = "greatest length"
	WidthAcross    = "width across it"
)

// uEndCm is the standard uncertainty of how high an end, or the rim of an outline, lies beside the place whose depth was
// taken: it lies on the bone's flank, and 3 cm is the half-width of a rectangular distribution (common practice, no source).
const uEndCm = 3 / 1.7320508075688772

// deeperCm is for how much deeper a bone a length is told that holds at the reference's level.
const deeperCm = 10

// mostOfLength is the share of a length that its U may be.
const mostOfLength = 0.5

// LengthOf is the length between two places of the photo at the level of the bone, nil: of the reference alone. of is
// what is measured, "bone" or "block", thing the reference's everyday word. An error says why there is none.
func LengthOf(plane *calibrate.Plane, a, b calibrate.Point, bone *Depth, of, thing string) (l Length, err error) {
	var depth Depth
	if bone != nil {
		depth = bone.Under([]calibrate.Point{a, b})
		if s, ok := depth.along(a, b); ok {
			q := s.LengthCm
			flat, err := lengthAt(plane, a, b, depth)
			if err == nil { // the ends lie on the bone's flanks, whatever its crest
				q.U, err = lengthU(plane, a, b, depth, calibrate.Quantity{Value: flat.Value, U: q.U})
			}
			if err != nil {
				return l, err
			}
			l.Cm, l.UCm, l.Below = &q.Value, q.U, depth.Below(thing)
			l.Says = fmt.Sprintf("%s cm along the %s (%s)", q, of, l.Below)
			return l, nil
		}
	}
	q, err := lengthAt(plane, a, b, depth)
	if err != nil {
		return l, err
	}
	if bone != nil {
		if q.U, err = lengthU(plane, a, b, depth, q); err != nil {
			return l, err
		}
	}
	if !(q.Value > 0) || q.U > mostOfLength*q.Value {
		return l, fmt.Errorf("%s cm: limit for U is %.0f %%", q, 100*mostOfLength)
	}
	l.UCm = q.U
	if bone != nil {
		l.Cm, l.Below = &q.Value, depth.Below(thing)
		l.Says = fmt.Sprintf("%s cm at %s level (%s)", q, of, l.Below)
		if depth.Unfound {
			l.Says = fmt.Sprintf("%s cm %s", q, depth.At(thing))
			l.Mind("how deep the " + of + " itself lies was not measured")
		}
		return l, nil
	}
	l.AtReferenceCm = &q.Value
	l.Says = fmt.Sprintf("%s cm at the level of the %s only", q, thing)
	deep, err := lengthAt(plane, a, b, Depth{Cm: deeperCm})
	if err != nil {
		l.Says += "; the photo does not tell how much longer if the " + of + " lies below it"
		return l, nil
	}
	longer := math.Round(1000*(deep.Value/q.Value-1)) / 10
	l.LongerPercent = &longer
	l.Says += fmt.Sprintf("; %.0f %% longer if the %s lies %d cm below", longer, of, deeperCm)
	return l, nil
}

func lengthAt(plane *calibrate.Plane, a, b calibrate.Point, depth Depth) (calibrate.Quantity, error) {
	level, err := plane.At(depth.Cm)
	if err != nil {
		return calibrate.Quantity{}, err
	}
	return level.PickedLengthCm(a, b, PickPx)
}

// lengthU is U of a length at a depth with how well the depth of each of its ends is known: both may be off by the same
// or each by its own, whichever makes more.
func lengthU(plane *calibrate.Plane, a, b calibrate.Point, depth Depth, q calibrate.Quantity) (u float64, err error) {
	upper, err := plane.At(depth.Cm)
	if err != nil {
		return 0, err
	}
	uEach := math.Hypot(depth.uCm(), uEndCm)
	lower, err := plane.At(depth.Cm + uEach)
	if err != nil {
		return 0, err
	}
	between := func(la, lb calibrate.Level) float64 {
		ua, va, err1 := la.Cm(a)
		ub, vb, err2 := lb.Cm(b)
		if err1 != nil || err2 != nil {
			return math.NaN()
		}
		return math.Hypot(ub-ua, vb-va)
	}
	byA, byB := between(lower, upper)-q.Value, between(upper, lower)-q.Value
	u = math.Hypot(q.U, 2*max(math.Abs(byA+byB), math.Hypot(byA, byB)))
	if math.IsNaN(u) {
		return 0, fmt.Errorf("one of the two places does not lie on the level %g cm below the reference", depth.Cm+uEach)
	}
	return u, nil
}

// Mind adds what is to be minded of the length to it and to its words.
func (l *Length) Mind(text string) {
	if text != "" {
		l.But = append(l.But, text)
		l.Says += "; " + text
	}
}

// Lengths are the outline's greatest length, between two of its points, and its width at right angles to that, on its own
// level, else that of the bone (of an outline of one), else that of the reference.
func (o Outline) Lengths(plane *calibrate.Plane, bone *Depth, thing string) (out []Length, err error) {
	if o.Of != "bone" {
		bone = nil // the block's rim lies on no level that was taken
	}
	if o.LevelCm != nil {
		bone = &Depth{Cm: *o.LevelCm}
	}
	below := 0.0
	if bone != nil {
		below = bone.Under(o.Points).Cm
	}
	level, err := plane.At(below)
	if err != nil {
		return nil, err
	}
	places := make([][2]float64, 0, len(o.Points))
	for _, p := range o.Points {
		u, v, err := level.Cm(p)
		if err != nil {
			return nil, err
		}
		places = append(places, [2]float64{u, v})
	}
	from, to, long := 0, 0, 0.0
	for i, p := range places {
		for j, q := range places[:i] {
			if d := math.Hypot(p[0]-q[0], p[1]-q[1]); d > long {
				from, to, long = j, i, d
			}
		}
	}
	if !(long > 0) {
		return nil, fmt.Errorf("the outline's points are one place")
	}
	along := [2]float64{(places[to][0] - places[from][0]) / long, (places[to][1] - places[from][1]) / long}
	aside := func(p [2]float64) float64 { return p[1]*along[0] - p[0]*along[1] }
	least := slices.MinFunc(places, func(p, q [2]float64) int { return cmp.Compare(aside(p), aside(q)) })
	most := slices.MaxFunc(places, func(p, q [2]float64) int { return cmp.Compare(aside(p), aside(q)) })
	wide := aside(most) - aside(least)
	a, ok1 := level.Photo(least[0], least[1])
	b, ok2 := level.Photo(least[0]-wide*along[1], least[1]+wide*along[0]) // as far aside as the other
	if !ok1 || !ok2 {
		return nil, fmt.Errorf("the outline does not lie before the camera")
	}
	for _, c := range []struct {
		what string
		a, b calibrate.Point
	}{{GreatestLength, o.Points[from], o.Points[to]}, {WidthAcross, a, b}} {
		l, err := LengthOf(plane, c.a, c.b, bone, o.Of, thing)
		if err != nil {
			return nil, err
		}
		l.Outline, l.What = o.Name, c.what
		out = append(out, l)
	}
	return out, nil
}
