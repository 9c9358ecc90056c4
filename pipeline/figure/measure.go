package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
)

// Measure is the length in cm between two places of the photo, or the area in
// cm² within three or more, belowCm behind the plane. U holds the picking, and
// how well a depth is known.
func Measure(plane *calibrate.Plane, at []calibrate.Point, belowCm float64) (calibrate.Quantity, error) {
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
	q, err := on(belowCm, uPickPx)
	if err != nil || belowCm == 0 {
		return q, err
	}
	deeper, err := on(belowCm+uDepthCm, 0)
	if err != nil {
		return q, err
	}
	q.U = math.Hypot(q.U, 2*(deeper.Value-q.Value))
	return q, nil
}

// Area is the area within an outline, with the level it holds on: its own, else
// that of the bone, else that of the reference. thing is the reference's
// everyday word.
func (o Outline) Area(plane *calibrate.Plane, depthCm *float64, thing string) (q calibrate.Quantity, where string, err error) {
	below := 0.0
	switch {
	case o.LevelCm != nil:
		below = *o.LevelCm
	case depthCm != nil:
		below = *depthCm
	}
	q, err = Measure(plane, o.Points, below)
	return q, LevelText(below, thing), err
}

// LevelText says on which level a length or area holds.
func LevelText(belowCm float64, thing string) string {
	switch {
	case belowCm > 0:
		return fmt.Sprintf("%g cm below the %s", belowCm, thing)
	case belowCm < 0:
		return fmt.Sprintf("%g cm above the %s", -belowCm, thing)
	}
	return "at the level of the " + thing
}
