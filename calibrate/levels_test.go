package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// twoBars draws two bars in one photo, the second belowCm behind the first as a
// camera that looks straight down on both sees them.
func twoBars(t testing.TB, rng *rand.Rand, farCm, belowCm float64) (a, b Sighting) {
	t.Helper()
	var out [2]Sighting
	for i, far := range []float64{farCm, farCm + belowCm} {
		d := drawBar(rng, 0, 0, far, 0.05, 0, 1)
		p, err := FitBar(d.ref, d.camera, d.marks)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = Sighting{Reference: d.ref, Plane: p}
	}
	return out[0], out[1]
}

func TestDepthBetweenCoversTheTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	inside, n, widest := 0, 0, 0.0
	for _, below := range []float64{0, 5, 12, -7, 40} {
		for range 30 {
			a, b := twoBars(t, rng, 50+30*rng.Float64(), below)
			q, err := DepthBetween(a, b)
			if err != nil {
				t.Fatal(err)
			}
			n++
			widest = max(widest, q.U)
			if math.Abs(q.Value-below) <= q.U {
				inside++
			}
		}
	}
	if float64(inside) < 0.93*float64(n) || widest > 30 {
		t.Errorf("%d of %d depths within U, widest U %.1f cm", inside, n, widest)
	}
}

func TestDepthBetweenIsTheScalesRatio(t *testing.T) {
	// Seen straight from H, a thing h below reads H/(H+h) of its size.
	rng := rand.New(rand.NewPCG(13, 14))
	a, b := twoBars(t, rng, 60, 10)
	la, _ := a.Plane.At(0)
	lb, _ := b.Plane.At(0)
	sa, _ := la.ScalePxPerCm(a.Plane.MiddleCm())
	sb, _ := lb.ScalePxPerCm(b.Plane.MiddleCm())
	if ratio := sb.Value / sa.Value; math.Abs(ratio-60.0/70) > 0.01 {
		t.Errorf("scales' ratio %.4f, want 60/70", ratio)
	}
}

func TestDepthBetweenRefuses(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	a, b := twoBars(t, rng, 60, 10)
	long := b
	long.Reference.LengthCm = 25.4 // an inch for a centimetre: the same marks, 2.54 times as large
	long.Plane = stretched(t, b.Plane, 2.54)
	blind := a
	plane := *a.Plane
	plane.Camera.Focal35Mm = 0
	blind.Plane = &plane
	for name, c := range map[string]struct {
		a, b Sighting
		want string
	}{
		"inch for centimetre": {a, long, "bar 10cm/1cm and bar 25.4cm/1cm contradict each other"},
		"no focal length":     {blind, b, "focal length"},
		"not scaled":          {a, Sighting{Reference: b.Reference}, "both have to be scaled"},
	} {
		_, err := DepthBetween(c.a, c.b)
		var why *Refusal
		if !errors.As(err, &why) || !strings.Contains(why.Reason, c.want) || why.Retake == "" {
			t.Errorf("%s: %v, want a refusal with %q", name, err, c.want)
		}
	}
}

// stretched is the plane of the same marks with every length times factor.
func stretched(t testing.TB, p *Plane, factor float64) *Plane {
	t.Helper()
	q := *p
	for _, i := range []int{0, 1, 3, 4, 6, 7} {
		q.Homography[i] /= factor
		for k := range params {
			at := max(i, k)*(max(i, k)+1)/2 + min(i, k)
			q.Covariance[at] /= factor
			if k == i {
				q.Covariance[at] /= factor
			}
		}
	}
	for i := range q.Corners {
		q.Corners[i][0], q.Corners[i][1] = q.Corners[i][0]*factor, q.Corners[i][1]*factor
	}
	return &q
}
