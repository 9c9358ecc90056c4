package stringgrid

import (
	"math"
	"testing"
)

// The angle between two segments goes by their directions, wherever they lie and whichever end comes first: 0 to 90 degrees.
func TestBetween(t *testing.T) {
	for _, c := range []struct {
		a, b [2][2]float64
		want float64
	}{
		{[2][2]float64{{100, 200}, {200, 200}}, [2][2]float64{{300, 300}, {400, 300}}, 0},
		{[2][2]float64{{100, 200}, {200, 200}}, [2][2]float64{{400, 300}, {300, 300}}, 0},
		{[2][2]float64{{100, 200}, {200, 200}}, [2][2]float64{{300, 300}, {300, 500}}, 90},
		{[2][2]float64{{100, 200}, {200, 300}}, [2][2]float64{{300, 300}, {300, 500}}, 45},
		{[2][2]float64{{100, 200}, {200, 300}}, [2][2]float64{{500, 50}, {300, 50}}, 45},
		{[2][2]float64{{10, 20}, {10 + 100*math.Sqrt(3), 120}}, [2][2]float64{{0, 500}, {70, 500}}, 30},
	} {
		a, b := ray{}, ray{}
		a.a, a.b, b.a, b.b = c.a[0], c.a[1], c.b[0], c.b[1]
		if got := between(&a, &b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v and %v: %.3f degrees, want %g", c.a, c.b, got, c.want)
		}
	}
}

func TestClip(t *testing.T) {
	for v, want := range map[float64]float64{0: 0, 2: 2, -2: -2, 5: 3, -5: -3} {
		if got := clip(v, 3); got != want {
			t.Errorf("%g clipped at 3 is %g", v, got)
		}
	}
}
