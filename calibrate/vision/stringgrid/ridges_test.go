package stringgrid

import (
	"math"
	"testing"
)

// TestHalfTurn is within the rounding of half what math.Atan2 says, all round.
func TestHalfTurn(t *testing.T) {
	for i := range 36000 {
		sin, cos := math.Sincos(float64(i) / 18000 * math.Pi)
		x, y := float32(3e-3*cos), float32(3e-3*sin)
		want := math.Atan2(float64(y), float64(x)) * 90 / math.Pi
		got := float64(halfTurnDeg(y, x))
		if off := math.Abs(math.Remainder(got-want, 180)); off > 0.52 || got > 179 {
			t.Fatalf("(%g, %g): %g degrees, want %.3f", x, y, got, want)
		}
	}
}
