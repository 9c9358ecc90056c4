package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate/card"
)

// What a card's plane is shifted by is known to uShift of itself, everywhere alike: that much goes into each covariance.
func TestDoubtIsOfTheShift(t *testing.T) {
	rough, p := facing(150, 0, 0), facing(150, 0, 0)
	shift := [params]float64{1e-4, -2e-4, 3e-4, 5e-4, -7e-4, 11e-4, -13e-4, 17e-4, 0.019}
	for i := range 8 {
		p.Homography[i] += shift[i]
	}
	p.K1 += shift[8]
	for i := range p.Covariance {
		p.Covariance[i] = 1e-9
	}
	p.doubt(rough)
	for i := range params {
		for k := range params {
			if got, want := p.cov(i, k), 1e-9+uShift*uShift*shift[i]*shift[k]; math.Abs(got-want) > 1e-12 {
				t.Errorf("covariance (%d, %d) is %g, want %g", i, k, got, want)
			}
		}
	}
}

// A point at or beyond the plane's horizon lies nowhere on it.
func TestBeyondTheHorizonNothingLies(t *testing.T) {
	p := facing(150, 0, 0)
	p.Homography[7] = 1.0 / 60 // the horizon is at y = 60/150 of the focal length
	f, _, _ := p.Camera.FocalPx()
	level, err := p.At(0)
	if err != nil {
		t.Fatal(err)
	}
	horizon := 1499.5 + 0.4*f
	for y, lies := range map[float64]bool{horizon - 200: true, horizon - 20: true, horizon + 20: false, horizon + 200: false} {
		u, v, err := level.Cm(Point{XPx: 2300, YPx: y})
		if (err == nil) != lies {
			t.Errorf("%.0f px above the horizon: (%g, %g), %v", horizon-y, u, v, err)
		}
	}
}

// Tiles tell how wide their squares are by the strings: as printed where the pitch is right, the median of them.
func TestTilesTellTheirSize(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	g := tilted(rng, 10)
	ref := gridRef(t, nil)
	p, err := FitGrid(ref, g.camera, g.marks(rng))
	if err != nil {
		t.Fatal(err)
	}
	for _, scaled := range []float64{1, 0.9, 1.1} {
		seen, printed, ok := p.TileMm(ref, g.framed(rng, TileInCm, scaled, 1, 2, 3, 4))
		if !ok || printed != card.Tiles.SquareMm || math.Abs(seen/printed-scaled) > 0.02 {
			t.Errorf("tiles of %g: %.2f mm seen, %.2f printed, %t", scaled, seen, printed, ok)
		}
	}
	if seen, _, ok := p.TileMm(ref, nil); ok {
		t.Errorf("no tile tells %.2f mm", seen)
	}
}
