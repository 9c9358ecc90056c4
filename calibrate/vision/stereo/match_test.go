package stereo

import (
	"math"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// texture is ground that differs everywhere.
func texture(u, v float64) float64 {
	sum := 0.0
	for k := 1; k < 12; k++ {
		f := float64(k)
		sum += math.Sin(u*math.Cos(1.7*f)*f*0.45+v*math.Sin(1.7*f)*f*0.45+f*f) / 11
	}
	return 110 + 160*sum
}

// taken is a picture of ground at one depth, half a cm a px.
func taken(c relief.Camera, below float64, size int) *View {
	grey := make([]byte, size*size)
	for i := range grey {
		u, v, _ := c.Ground(calibrate.Point{XPx: float64(i % size), YPx: float64(i / size)}, below)
		grey[i] = byte(min(255, max(0, texture(u, v))))
	}
	return NewView(grey, size, size, size, size, nil, nil)
}

// TestDepthOfFlatGroundIsFound: every node, from places in the two pictures that agree to a fraction of a px.
func TestDepthOfFlatGroundIsFound(t *testing.T) {
	const below = 7.3
	a := relief.CameraOf([10]float64{0, 0, 0, 20, 20, -100, 800, 0, 200, 200})
	b := relief.CameraOf([10]float64{0, 0.2, 0, 42, 21, -98, 800, 0, 200, 200})
	m := Match([2]relief.Camera{a, b}, [2]*View{taken(a, below, 400), taken(b, below, 400)}, [2]float64{2, 2}, [2]float64{38, 38})
	if m.Coarse < 0.8 || len(m.Nodes) < m.Visible*8/10 || m.Visible < 3000 {
		t.Fatalf("%d nodes of %d, coarse look %.2f", len(m.Nodes), m.Visible, m.Coarse)
	}
	for _, n := range m.Nodes {
		u, v, _ := a.Ground(n.At, below)
		p, _ := b.Photo(u, v, below)
		if math.Hypot(p.XPx-n.To.XPx, p.YPx-n.To.YPx) > 0.25 {
			t.Fatalf("node at (%.1f, %.1f): seen at %v, is at %v", n.UCm, n.VCm, n.To, p)
		}
	}
}
