package calibrate

import (
	"math"
	"strconv"
)

// A Quantity is a value with its expanded uncertainty, k = 2.
type Quantity struct {
	Value float64 `json:"value"`
	U     float64 `json:"u"`
}

// String writes "14.06 ± 0.12": U to two digits, rounded up so that it never
// shrinks, and the value to the same place (JCGM 100:2008, 7.2.6).
func (q Quantity) String() string {
	if !(q.U > 0) || math.IsInf(q.U, 0) {
		return strconv.FormatFloat(q.Value, 'g', 6, 64)
	}
	places := 1 - int(math.Floor(math.Log10(q.U)))
	unit := math.Pow(10, float64(-places))
	u := math.Ceil(q.U/unit-1e-9) * unit
	if places < 0 {
		places = 0
	}
	return strconv.FormatFloat(math.Round(q.Value/unit)*unit, 'f', places, 64) + " ± " + strconv.FormatFloat(u, 'f', places, 64)
}
