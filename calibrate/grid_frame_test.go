package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A frame pushed out of square shows when the focal length is known: it is
// stated and corrected. Without the focal length U covers it or it is seen.
func TestGridRackedFrame(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for _, rack := range []float64{-2, -1, 1, 2} {
		inside := 0
		for range 10 {
			g := tilted(rng, 25*rng.Float64())
			g.noisePx, g.rackDeg = 0.3, rack
			p, err := FitGrid(gridRef(t, nil), g.camera, g.marks(rng))
			if err != nil {
				t.Fatalf("racked by %g degrees: %v", rack, err)
			}
			if a := p.Frame.AngleDeg; math.Abs(a.Value-(90-rack)) > max(a.U, 0.05) {
				t.Errorf("racked by %g degrees: frame's angle %.2f ± %.2f, want %.2f", rack, a.Value, a.U, 90-rack)
			}
			in, worst, _ := g.lengthErrors(t, p, rng, 20)
			inside += in
			if worst > 1 {
				t.Errorf("racked by %g degrees: error of %.2f %%, want 1 at most", rack, worst)
			}
		}
		if inside < 190 {
			t.Errorf("racked by %g degrees: truth inside U for %d of 200 lengths", rack, inside)
		}
	}
}

// Two taped diagonals settle the angle: d1^2 = a^2 + b^2 + 2ab cos, the law of cosines.
func TestGridTapedDiagonals(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	g := tilted(rng, 30)
	g.rackDeg, g.noisePx = 1.5, 0.3
	angle := (90 - g.rackDeg) * math.Pi / 180
	ref := gridRef(t, func(r *Reference) {
		r.DiagonalsCm = []float64{math.Sqrt(20000 * (1 + math.Cos(angle))), math.Sqrt(20000 * (1 - math.Cos(angle)))}
	})
	for _, swap := range []bool{false, true} {
		if swap {
			ref.DiagonalsCm[0], ref.DiagonalsCm[1] = ref.DiagonalsCm[1], ref.DiagonalsCm[0]
		}
		p, err := FitGrid(ref, g.camera, g.marks(rng))
		if err != nil {
			t.Fatal(err)
		}
		if a := p.Frame.AngleDeg; math.Abs(a.Value-88.5) > 0.15 || a.U > 0.3 || !p.Frame.Taped {
			t.Errorf("taped (swapped: %v): angle %.2f ± %.2f, want 88.50 within 0.15", swap, a.Value, a.U)
		}
		inside, _, _ := g.lengthErrors(t, p, rng, 40)
		if inside < 37 {
			t.Errorf("taped: truth inside U for %d of 40", inside)
		}
	}
}
