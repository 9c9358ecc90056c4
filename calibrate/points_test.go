package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// TestPointsSquare: a picture taken square reads exactly, along and across.
func TestPointsSquare(t *testing.T) {
	ref, err := Points(Point{1000, 1500}, Point{2000, 1500}, 25)
	if err != nil {
		t.Fatal(err)
	}
	p, err := FitPoints(ref, Camera{4000, 3000, 28})
	if err != nil {
		t.Fatal(err)
	}
	level, _ := p.At(0)
	own, err := level.LengthCm(*ref.From, *ref.To)
	if err != nil || math.Abs(own.Value-25) > 1e-9 {
		t.Errorf("the points lie %v cm apart, %v, want 25", own, err)
	}
	across, err := level.LengthCm(Point{1500, 1000}, Point{1500, 2000})
	if err != nil || math.Abs(across.Value-25) > 1e-9 {
		t.Errorf("%v cm across, %v, want 25", across, err)
	}
	if !(across.U > own.U) {
		t.Errorf("U across is %g cm, along %g: a tilt shows across", across.U, own.U)
	}
	scale, err := level.ScalePxPerCm(p.MiddleCm())
	if err != nil || math.Abs(scale.Value-40) > 1e-9 {
		t.Errorf("%v px/cm, %v, want 40", scale, err)
	}
	if _, known := p.TiltDeg(); known {
		t.Error("two points told a tilt")
	}
	var refusal *Refusal
	if _, err := p.At(6); !errors.As(err, &refusal) || refusal.Retake == "" {
		t.Errorf("6 cm below two points: %v, want a refusal", err)
	}
}

// TestPointsPicked: the error of the picking is in U: 1 px at each end of
// 1000 px is sqrt 2 per mille, k = 2.
func TestPointsPicked(t *testing.T) {
	ref, _ := Points(Point{1000, 1500}, Point{2000, 1500}, 25)
	ref.PickPx = 1
	p, err := FitReference(ref, Camera{4000, 3000, 0}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Sqrt2 / 1000; math.Abs(p.URel-want) > 1e-12 {
		t.Errorf("relative uncertainty %g, want %g", p.URel, want)
	}
}

// TestPointsTilted: over tilts spread evenly up to the allowance, U (k = 2)
// covers at least 95 of 100 lengths near the points, along the line between
// them as well as anywhere.
func TestPointsTilted(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for _, alongLine := range []bool{false, true} {
		const n = 4000
		in, worst := 0, 0.0
		for range n {
			tilt := (rng.Float64()*2 - 1) * 20 * math.Pi / 180
			cam := Camera{4000, 3000, 28}
			focalPx, distance := 28/43.2666*5000, 150.0
			project := func(u, v float64) Point { // the plane tips about the picture's x
				z := distance + v*math.Sin(tilt)
				return Point{1999.5 + focalPx*u/z, 1499.5 + focalPx*v*math.Cos(tilt)/z}
			}
			turn := rng.Float64() * 2 * math.Pi
			c, s := math.Cos(turn), math.Sin(turn)
			ref, err := Points(project(-10*c, -10*s), project(10*c, 10*s), 20)
			if err != nil {
				t.Fatal(err)
			}
			p, err := FitPoints(ref, cam)
			if err != nil {
				t.Fatal(err)
			}
			level, _ := p.At(0)
			along := turn
			if !alongLine {
				along = rng.Float64() * 2 * math.Pi
			}
			u, v, half := rng.Float64()*30-15, rng.Float64()*30-15, 1+9*rng.Float64()
			du, dv := half*math.Cos(along), half*math.Sin(along)
			q, err := level.LengthCm(project(u-du, v-dv), project(u+du, v+dv))
			if err != nil {
				t.Fatal(err)
			}
			miss := math.Abs(q.Value - 2*half)
			worst = max(worst, miss/q.U)
			if miss <= q.U {
				in++
			}
		}
		if share := float64(in) / n; share < 0.95 {
			t.Errorf("along the line %t: truth inside U in %.1f %% of lengths, want 95; worst miss %.2f U", alongLine, 100*share, worst)
		}
		t.Logf("along the line %t: %d of %d, worst %.2f U", alongLine, in, n, worst)
	}
}
