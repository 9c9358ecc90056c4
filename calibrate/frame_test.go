package calibrate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestShapeClosedForm: a cell whose sides are in a known ratio at a known
// angle, seen by a known camera from anywhere, shows just that; and reshaped by
// it, it is square.
func TestShapeClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lean := rapid.Float64Range(-0.07, 0.07).Draw(t, "lean")
		log := rapid.Float64Range(-0.1, 0.1).Draw(t, "log of the sides' ratio")
		ratio := rapid.Float64Range(0.7, 1.5).Draw(t, "focal length over unit")
		cx, cy := rapid.Float64Range(-0.05, 0.05).Draw(t, "cx"), rapid.Float64Range(-0.05, 0.05).Draw(t, "cy")
		tilt, axis, turn := rapid.Float64Range(0, 1).Draw(t, "tilt"), rapid.Float64Range(0, 6.28).Draw(t, "axis"), rapid.Float64Range(0, 6.28).Draw(t, "turn")
		// Rodrigues' rotation by the tilt about an axis in the picture.
		c, s, x, y := math.Cos(tilt), math.Sin(tilt), math.Cos(axis), math.Sin(axis)
		turned := func(u, v float64) [3]float64 {
			return [3]float64{(c+x*x*(1-c))*u + x*y*(1-c)*v, x*y*(1-c)*u + (c+y*y*(1-c))*v, -y*s*u + x*s*v}
		}
		first, second := math.Exp(log/2), math.Exp(-log/2)
		a := turned(first*math.Cos(turn), first*math.Sin(turn))
		b := turned(second*math.Cos(turn+math.Pi/2-lean), second*math.Sin(turn+math.Pi/2-lean))
		at := [3]float64{0.3, -0.2, 12}
		var h homography
		for col, v := range [3][3]float64{a, b, at} {
			h[col] = ratio*v[0] + cx*v[2]
			h[3+col] = ratio*v[1] + cy*v[2]
			h[6+col] = v[2]
		}
		for i, last := 0, h[8]; i < 9; i++ {
			h[i] /= last
		}
		got := shape(h, ratio, cx, cy)
		if math.Abs(got[0]-lean) > 1e-9 || math.Abs(got[1]-log) > 1e-9 {
			t.Fatalf("leans by %.9f with log ratio %.9f, want %.9f and %.9f", got[0], got[1], lean, log)
		}
		if square := shape(reshape(h, got), ratio, cx, cy); math.Abs(square[0]) > 1e-9 || math.Abs(square[1]) > 1e-9 {
			t.Fatalf("reshaped it still leans by %g with log ratio %g", square[0], square[1])
		}
	})
}

// TestShapeOfZhangsPattern: the squares of a published pattern are square to
// the published camera (see testdata/vectors/zhang2000_corners.tsv), and not
// for a focal length a tenth off in the photo that is tilted most. What is
// left is the paper's skew of 0.2 px, which the file leaves out, over 832 px.
func TestShapeOfZhangsPattern(t *testing.T) {
	const focal, u0, v0, k1, k2 = 832.5, 303.959, 206.585, -0.228601, 0.190353
	const unit, mx, my = 700, 319.5, 239.5 // another frame, so that ratio and centre count
	pairs := map[string][]pair{}
	for _, row := range vectors(t, "zhang2000_corners.tsv") {
		v := numbers(t, row[1:])
		bx, by := (v[4]-u0)/focal, (v[5]-v0)/focal
		x, y := bx, by
		for range 50 {
			r := x*x + y*y
			x, y = bx/(1+k1*r+k2*r*r), by/(1+k1*r+k2*r*r)
		}
		pairs[row[0]] = append(pairs[row[0]], pair{v[0], v[1], (x*focal + u0 - mx) / unit, (y*focal + v0 - my) / unit})
	}
	worst := 0.0
	for photo, p := range pairs {
		h, ok := direct(p)
		if !ok {
			t.Fatalf("photo %s: not solved", photo)
		}
		s := shape(h, focal/unit, (u0-mx)/unit, (v0-my)/unit)
		if math.Abs(s[0]) > 0.001 || math.Abs(s[1]) > 0.001 {
			t.Errorf("photo %s: leans by %.3f degrees, sides in the ratio %.5f; want square", photo, s[0]*180/math.Pi, math.Exp(s[1]))
		}
		off := shape(h, 1.1*focal/unit, (u0-mx)/unit, (v0-my)/unit)
		worst = max(worst, math.Abs(off[0]), math.Abs(off[1]))
	}
	if worst < 0.005 {
		t.Errorf("a focal length a tenth off changes the shape by %.4f at most: the test shows nothing", worst)
	}
}
