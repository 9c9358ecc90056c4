package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
)

const (
	uTapeMm = 2 / 1.7320508075688772 // of a tape held by hand: 2 mm is the half-width of a rectangular distribution (common practice, no source)

	// PickPx is the standard uncertainty of a place that a person points at, each way (common practice, no source).
	PickPx = 2
)

// A Check is a taped length held against the plate.
type Check struct {
	Tape
	PlateMm calibrate.Quantity // on the level of the headline
	Within  bool               // the two differ by no more than their U together
}

// Checks holds taped lengths against the plane, at the bone's depth below it. A tape whose places do not lie on that level is left out.
func Checks(plane *calibrate.Plane, depth Depth, tapes []Tape) (out []Check) {
	for _, t := range tapes {
		q, err := Measure(plane, t.At[:], depth)
		if err != nil || !(q.Value > 0) {
			continue
		}
		mm := calibrate.Quantity{Value: 10 * q.Value, U: 10 * q.U}
		out = append(out, Check{t, mm, math.Abs(mm.Value-t.LengthMm) <= math.Hypot(mm.U, 2*uTapeMm)})
	}
	return out
}

// String is "A1 to F6: tape 412 mm, plate 405 ± 5 mm, within U".
func (c Check) String() string {
	says := "within U"
	if !c.Within {
		says = "OUTSIDE U: measure again, or the scale or the level is wrong"
	}
	return fmt.Sprintf("%s to %s: tape %g mm, plate %s mm, %s", c.From, c.To, c.LengthMm, c.PlateMm, says)
}
