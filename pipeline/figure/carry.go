package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
)

// An OnFrame is a place seen in a photo, in the axes of its set-up's frame: centimetres from the origin corner along the letters'
// edge and along the other, and below the strings. UCm and UBelowCm are k = 2; UCm holds the plane, the picking, and how far a
// depth that is not well known shifts the place.
type OnFrame struct {
	AlongCm, AcrossCm, BelowCm float64
	UCm, UBelowCm              float64
}

// Carry takes places of the photo to the frame at a depth below the strings. An error says that one of them does not lie there.
func (s *Squares) Carry(at []calibrate.Point, d Depth) ([]OnFrame, error) {
	d = d.Under(at)
	level, err := s.plane.At(d.Cm)
	if err != nil {
		return nil, err
	}
	deeper, err := s.plane.At(d.Cm + d.uCm())
	if err != nil {
		return nil, err
	}
	middle, ok := level.Photo(s.plane.MiddleCm())
	if !ok {
		return nil, fmt.Errorf("the strings' middle does not lie before the camera")
	}
	var out []OnFrame
	for _, p := range at {
		u, v, err := level.Cm(p)
		if err != nil {
			return nil, err
		}
		u2, v2, err := deeper.Cm(p)
		if err != nil {
			return nil, err
		}
		long, err := level.PickedLengthCm(middle, p, PickPx)
		if err != nil {
			return nil, err
		}
		along, across := s.of(u, v)
		out = append(out, OnFrame{AlongCm: along * s.pitchCm, AcrossCm: across * s.pitchCm, BelowCm: d.Cm,
			UCm: math.Hypot(long.U, 2*math.Hypot(u2-u, v2-v)), UBelowCm: 2 * d.uCm()})
	}
	return out, nil
}

// Clockwise tells whether the letters run clockwise round the grid, seen as in the photo.
func (s *Squares) Clockwise() bool {
	level, err := s.plane.At(0)
	return err == nil && s.clockwise(level)
}

// UDirectionDeg is the expanded uncertainty (k = 2) in degrees of the direction on the frame between two ends seen in the photo:
// how well they were picked, and that each may lie higher or lower than the depth says, by the 3 cm that lengths between ends count
// with.
func (s *Squares) UDirectionDeg(a, b calibrate.Point, d Depth) (float64, error) {
	d = d.Under([]calibrate.Point{a, b})
	turn := func(belowA, belowB float64) (deg, long float64, err error) {
		levelA, err1 := s.plane.At(belowA)
		levelB, err2 := s.plane.At(belowB)
		if err1 != nil || err2 != nil {
			return 0, 0, fmt.Errorf("the level does not lie before the camera")
		}
		ua, va, err1 := levelA.Cm(a)
		ub, vb, err2 := levelB.Cm(b)
		if err1 != nil || err2 != nil {
			return 0, 0, fmt.Errorf("the places do not lie on the level")
		}
		return math.Atan2(vb-va, ub-ua) * 180 / math.Pi, math.Hypot(ub-ua, vb-va), nil
	}
	deg, long, err := turn(d.Cm, d.Cm)
	if err != nil || long == 0 {
		return 0, fmt.Errorf("the two ends are one place")
	}
	lower, _, err1 := turn(d.Cm+uEndCm, d.Cm)
	upper, _, err2 := turn(d.Cm, d.Cm+uEndCm)
	level, err3 := s.plane.At(d.Cm)
	if err1 != nil || err2 != nil || err3 != nil {
		return 0, fmt.Errorf("the ends do not lie before the camera")
	}
	u, v, err := level.Cm(a)
	if err != nil {
		return 0, err
	}
	scale, err := level.ScalePxPerCm(u, v)
	if err != nil {
		return 0, err
	}
	pick := math.Sqrt2 * PickPx / scale.Value / long * 180 / math.Pi
	by := math.Hypot(math.Remainder(lower-deg, 360), math.Remainder(upper-deg, 360))
	return 2 * math.Hypot(by, pick), nil
}
