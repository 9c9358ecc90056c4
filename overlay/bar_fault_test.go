package overlay

import (
	"math"
	"testing"

	"fieldjacket/calibrate/look"
)

// A scale bar has 1 to 20 blocks of a size and at a scale that are positive and finite, both together too.
func TestBarsThatAreNone(t *testing.T) {
	for _, c := range []struct {
		bar look.Bar
		ok  bool
	}{
		{look.Bar{Blocks: 1, BlockCm: 1, PxPerCm: 1}, true}, {look.Bar{Blocks: 20, BlockCm: 1, PxPerCm: 1}, true},
		{look.Bar{Blocks: 0, BlockCm: 1, PxPerCm: 1}, false}, {look.Bar{Blocks: 21, BlockCm: 1, PxPerCm: 1}, false},
		{look.Bar{Blocks: 5, BlockCm: 0, PxPerCm: 1}, false}, {look.Bar{Blocks: 5, BlockCm: -1, PxPerCm: 1}, false}, {look.Bar{Blocks: 5, BlockCm: math.NaN(), PxPerCm: 1}, false},
		{look.Bar{Blocks: 5, BlockCm: 1, PxPerCm: 0}, false}, {look.Bar{Blocks: 5, BlockCm: 1, PxPerCm: -1}, false}, {look.Bar{Blocks: 5, BlockCm: 1, PxPerCm: math.NaN()}, false},
		{look.Bar{Blocks: 5, BlockCm: 1e300, PxPerCm: 1e300}, false}, {look.Bar{Blocks: 5, BlockCm: math.Inf(1), PxPerCm: 1}, false},
	} {
		if err := barFault(c.bar); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.bar, err)
		}
	}
	for native, want := range map[float64]float64{0: 0, -3: 0, math.Inf(1): 0, math.NaN(): 0, 1: 1, 1.19: 1, 1.2: 1.2, 0.99: 0.8, 47.9: 40, 50: 50, 79: 60, 80: 80} {
		if got := RoundPxPerCm(native); got != want {
			t.Errorf("%g px/cm is rounded to %g, want %g", native, got, want)
		}
	}
}
