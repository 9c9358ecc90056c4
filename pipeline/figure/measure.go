package figure

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// Measure is the length in cm between two places of the photo, or the area in
// cm² within three or more, that far behind the plane; where several photos told
// the depth, along the ground under the two places, and at the level of what lies
// within the others. U holds the picking, and how well a depth is known.
func Measure(plane *calibrate.Plane, at []calibrate.Point, depth Depth) (calibrate.Quantity, error) {
	if len(at) == 2 {
		if s, ok := depth.along(at[0], at[1]); ok {
			return s.LengthCm, nil
		}
	}
	depth = depth.Under(at)
	on := func(below, pickPx float64) (calibrate.Quantity, error) {
		level, err := plane.At(below)
		switch {
		case err != nil:
			return calibrate.Quantity{}, err
		case len(at) == 2:
			return level.PickedLengthCm(at[0], at[1], pickPx)
		}
		return level.PickedAreaCm2(at, pickPx)
	}
	q, err := on(depth.Cm, PickPx)
	if err != nil || depth.Cm == 0 {
		return q, err
	}
	deeper, err := on(depth.Cm+depth.uCm(), 0)
	if err != nil {
		return q, err
	}
	q.U = math.Hypot(q.U, 2*(deeper.Value-q.Value))
	return q, nil
}

// An Area is how large what an outline runs round is, as seen square on the reference's plane, with the level it holds on.
type Area struct {
	Outline string // its name
	Of      string // bone or block
	Cm2     calibrate.Quantity
	Where   string
}

// Area is the area within an outline, with the level it holds on: its own, else
// that of the bone, else that of the reference. thing is the reference's
// everyday word.
func (o Outline) Area(plane *calibrate.Plane, bone *Depth, thing string) (q calibrate.Quantity, where string, err error) {
	var level Depth
	switch {
	case o.LevelCm != nil:
		level.Cm = *o.LevelCm
	case bone != nil:
		level = bone.Under(o.Points)
	}
	q, err = Measure(plane, o.Points, level)
	return q, level.Below(thing), err
}

// Under is the depth of what lies under these places, where several photos told
// it: under the line between two, or within more; else the depth itself.
func (d Depth) Under(at []calibrate.Point) Depth {
	if d.Ground == nil {
		return d
	}
	var q calibrate.Quantity
	var ok bool
	if len(at) == 2 {
		q, ok = d.Ground.along(at[0], at[1])
	} else {
		q, ok = d.Ground.Within(at)
	}
	if ok {
		d.Cm, d.U, d.Unfound = q.Value, q.U, false
	}
	return d
}

// along is the line between two places laid on the ground, where several photos told that.
func (d Depth) along(a, b calibrate.Point) (s relief.Segment, ok bool) {
	if d.Ground == nil {
		return s, false
	}
	s, ok = d.Ground.Segment(a, b, PickPx)
	return s, ok && s.LengthCm.Value > 0 && s.LengthCm.U <= mostOfLength*s.LengthCm.Value
}
