package figure

import (
	"math"

	"fieldjacket/calibrate"
)

// Measure is the length in cm between two places of the photo, or the area in
// cm² within three or more, that far behind the plane. U holds the picking, and
// how well a depth is known.
func Measure(plane *calibrate.Plane, at []calibrate.Point, depth Depth) (calibrate.Quantity, error) {
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
	q, err := on(depth.Cm, uPickPx)
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

// Area is the area within an outline, with the level it holds on: its own, else
// that of the bone, else that of the reference. thing is the reference's
// everyday word.
func (o Outline) Area(plane *calibrate.Plane, bone *Depth, thing string) (q calibrate.Quantity, where string, err error) {
	var level Depth
	switch {
	case o.LevelCm != nil:
		level.Cm = *o.LevelCm
	case bone != nil:
		level = *bone
	}
	q, err = Measure(plane, o.Points, level)
	return q, level.Below(thing), err
}
