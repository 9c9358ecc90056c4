package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// shot makes a camera, a state and corners of a board as that camera sees it.
func shot(rng *rand.Rand, noisePx float64) (Camera, state, []Mark) {
	cam := Camera{4032, 3024, 26 + 4*rng.Float64()}
	tx, ty := (rng.Float64()-.5)*0.8, (rng.Float64()-.5)*0.8
	rot := rng.Float64() * 2 * math.Pi
	c, s := math.Cos(rot), math.Sin(rot)
	cx, sx, cy, sy := math.Cos(tx), math.Sin(tx), math.Cos(ty), math.Sin(ty)
	// Rx Ry Rz first two columns
	r1 := [3]float64{cy * c, sx*sy*c + cx*s, -cx*sy*c + sx*s}
	r2 := [3]float64{-cy * s, -sx*sy*s + cx*c, cx*sy*s + sx*c}
	t := [3]float64{-7 + 4*rng.Float64(), -5 + 4*rng.Float64(), 40 + 40*rng.Float64()}
	var st state
	for i, v := range []float64{r1[0], r2[0], t[0], r1[1], r2[1], t[1], r1[2], r2[2]} {
		st[i] = v / t[2]
	}
	st[8], st[9] = 0.05*(rng.Float64()-.5), 1
	l := Level{plane: &Plane{Camera: cam}}
	var marks []Mark
	for j := range 4 {
		for i := range 6 {
			u, v := 2*float64(i), 2*float64(j)
			h, _ := l.homography(st)
			x, y, _ := h.apply(u, v)
			xd, yd := bend(x, y, st[8])
			p := cam.photo(xd, yd)
			p.XPx += noisePx * rng.NormFloat64()
			p.YPx += noisePx * rng.NormFloat64()
			marks = append(marks, Mark{At: p, UCm: u, VCm: v})
		}
	}
	return cam, st, marks
}

// TestUCoversTruth: U (k = 2) covers the truth about 95 times in 100, with one corner 7 px off its place in every photo.
func TestUCoversTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	ref, _ := Checker(7, 5, 2)
	zero := 0.0
	ref.ToleranceCm = &zero
	in, n := 0, 0
	var z2 float64
	for range 300 {
		cam, st, marks := shot(rng, 0.1)
		marks[3].At.XPx += 7
		p, err := FitChecker(ref, cam, marks)
		if err != nil {
			t.Fatal(err)
		}
		l, _ := p.At(0)
		lt := Level{plane: &Plane{Camera: cam}}
		for range 10 {
			a, b := Point{rng.Float64()*2000 + 1000, rng.Float64()*1500 + 700}, Point{rng.Float64()*2000 + 1000, rng.Float64()*1500 + 700}
			q, err := l.LengthCm(a, b)
			if err != nil {
				t.Fatal(err)
			}
			ua, va, _ := lt.cm(st, a)
			ub, vb, _ := lt.cm(st, b)
			truth := math.Hypot(ub-ua, vb-va)
			n++
			z := (q.Value - truth) / q.U * 2
			z2 += z * z
			if math.Abs(q.Value-truth) <= q.U {
				in++
			}
		}
	}
	if share := float64(in) / float64(n); share < 0.92 || share > 0.98 {
		t.Errorf("truth inside U in %.1f %% of %d lengths: want 92 to 98", 100*share, n)
	}
	t.Logf("inside %d of %d, rms z %.3f", in, n, math.Sqrt(z2/float64(n)))
}
