package calibrate

import (
	"fmt"
	"math"
	"strings"
)

var pointsKind = kind{
	name:     KindPoints,
	validate: validatePoints, parse: parsePoints, describe: describePoints,
	fit:  func(r Reference, c Camera, _ []Mark) (*Plane, error) { return FitPoints(r, c) },
	uRel: uRelPoints,
	few:  true,
}

func validatePoints(r Reference) error {
	if r.From == nil || r.To == nil {
		return fmt.Errorf("points: want two places")
	}
	for _, v := range []float64{r.From.XPx, r.From.YPx, r.To.XPx, r.To.YPx} {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			return fmt.Errorf("points: coordinate %g px: want a number below a million", v)
		}
	}
	if !(r.PickPx >= 0 && r.PickPx < 1e6) {
		return fmt.Errorf("points picked to %g px: want 0 or a number of pixels below a million", r.PickPx)
	}
	if d := math.Hypot(r.To.XPx-r.From.XPx, r.To.YPx-r.From.YPx); d < 2 {
		return fmt.Errorf("points %g px apart: want at least 2", d)
	}
	return r.validSize("length", r.LengthCm)
}

func parsePoints(r *Reference, text string) error {
	places, length, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("want two places and the distance between, as 812,1440,2210,1395=12.5cm")
	}
	a, b, err := ParseSegment(places)
	if err == nil {
		r.From, r.To = &a, &b
		r.LengthCm, err = ParseLength(length)
	}
	return err
}

func describePoints(r Reference) string { return fmt.Sprintf(" %gcm", r.LengthCm) }

// uRelPoints: points are exact unless a tolerance is given, which then holds at each of the two.
func uRelPoints(r Reference) float64 {
	if r.ToleranceCm == nil {
		return 0
	}
	return *r.ToleranceCm * math.Sqrt2 / r.LengthCm / math.Sqrt(3)
}
