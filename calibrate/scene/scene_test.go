package scene

import (
	"bytes"
	"testing"

	"fieldjacket/calibrate"
)

func small(seed uint64) Scene {
	return Scene{
		Seed:     seed,
		Ground:   Ground{RoughCm: 1, JointCm: 30, PebblesPerM2: 20},
		Bones:    []Bone{{Kind: LongBone, ZCm: 2, LengthCm: 20, ThickCm: 3}},
		Camera:   Camera{WidthPx: 640, HeightPx: 480, Focal35Mm: 26, K1: 0.01, DistanceCm: 50, TiltDeg: 12, HeadingDeg: 70},
		Checkers: []Checker{{Pose: Pose{ZCm: 3, TurnDeg: 20}, Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}},
	}
}

// TestSameSceneSameBytes, and another seed another picture.
func TestSameSceneSameBytes(t *testing.T) {
	a, _ := small(3).Render()
	b, _ := small(3).Render()
	c, _ := small(4).Render()
	if !bytes.Equal(a.Pix, b.Pix) {
		t.Error("one scene gave two pictures")
	}
	if bytes.Equal(a.Pix, c.Pix) {
		t.Error("two seeds gave one picture")
	}
}

// TestCornersAreTrue: round each true corner the four squares alternate, and
// the truth fits a plane to nothing.
func TestCornersAreTrue(t *testing.T) {
	picture, truth := small(3).Render()
	p := truth.Planes[0]
	if len(p.Marks) != 24 {
		t.Fatalf("%d corners, want 6 x 4", len(p.Marks))
	}
	grey := func(u, v float64) float64 {
		at, _ := p.Photo(u, v, 0)
		c := picture.RGBAAt(int(at.XPx+0.5), int(at.YPx+0.5))
		return float64(c.R) + float64(c.G) + float64(c.B)
	}
	for _, m := range p.Marks {
		u, v, ok := p.Cm(m.At, 0)
		if !ok {
			t.Fatal("a corner has no place on its board")
		}
		same := grey(u+.5, v+.5) + grey(u-.5, v-.5)
		other := grey(u+.5, v-.5) + grey(u-.5, v+.5)
		if d := same - other; d < 100 && d > -100 {
			t.Errorf("no corner at %v: %g against %g", m.At, same, other)
		}
	}
	plane, err := calibrate.FitChecker(p.Reference, calibrate.Camera{WidthPx: 640, HeightPx: 480, Focal35Mm: 26}, p.Marks)
	if err != nil {
		t.Fatal(err)
	}
	if plane.RMSPx > 1e-3 {
		t.Errorf("the truth misses itself by %g px", plane.RMSPx)
	}
}
