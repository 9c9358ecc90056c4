package relief

import (
	"errors"
	"math"
	"testing"

	"fieldjacket/calibrate"
)

// from is a camera of 4032 x 3024 px at a place over the grid, looking at its middle.
func from(u, v, high float64) Camera {
	c := [3]float64{u, v, -high}
	z := [3]float64{50 - u, 50 - v, high}
	n := length(z)
	z = [3]float64{z[0] / n, z[1] / n, z[2] / n}
	x := [3]float64{z[2], 0, -z[0]}
	n = length(x)
	x = [3]float64{x[0] / n, 0, x[2] / n}
	y := [3]float64{z[1]*x[2] - z[2]*x[1], z[2]*x[0] - z[0]*x[2], z[0]*x[1] - z[1]*x[0]}
	return Camera{[9]float64{x[0], x[1], x[2], y[0], y[1], y[2], z[0], z[1], z[2]}, c, 3000, 0.01, 2015.5, 1511.5}
}

var gridOf10 = calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}

// seenFrom is what a camera sees of strings that lie beside their places, the whole frame moved.
func seenFrom(t *testing.T, c Camera, movedU, movedV float64) Photo {
	t.Helper()
	tag := 3000 * calibrate.Diagonal35Mm / math.Hypot(4032, 3024)
	p := Photo{}
	for family := range 2 {
		for n := range 11 {
			off := 0.1 * math.Sin(float64(7*n+3*family))
			for k := range 40 {
				a, along := 10*float64(n)+off, 1.25+2.5*float64(k)
				m := calibrate.Mark{Pins: calibrate.PinsU, UCm: 10 * float64(n), Line: 1 + 1000*family + n}
				u, v := a, along
				if family == 1 {
					u, v = along, a
					m.Pins, m.UCm, m.VCm = calibrate.PinsV, 0, 10*float64(n)
				}
				m.Edge = 1 + 1000*m.Line + k/4
				m.At, _ = c.Photo(u+movedU, v+movedV, 0)
				p.Marks = append(p.Marks, m)
			}
		}
	}
	plane, err := calibrate.FitReference(gridOf10, calibrate.Camera{WidthPx: 4032, HeightPx: 3024, Focal35Mm: tag}, p.Marks)
	if err != nil {
		t.Fatal(err)
	}
	p.Plane = plane
	return p
}

// groundSeen are the matches of ground that falls from 6 to 12 cm.
func groundSeen(first, other Camera) Matches {
	m := Matches{Score: 0.9, Second: 0.3, SpacingCm: 1, Coarse: 0.9}
	c := first.PlaceCm()
	for i := range 100 {
		for k := range 100 {
			g, h := float64(i)+0.5, float64(k)+0.5
			below := 9.0
			for range 20 {
				below = 6 + 0.06*(c[0]+(1+below/-c[2])*(g-c[0]))
			}
			at, _ := first.Photo(g, h, 0)
			to, _ := other.Photo(c[0]+(1+below/-c[2])*(g-c[0]), c[1]+(1+below/-c[2])*(h-c[1]), below)
			m.Nodes = append(m.Nodes, Match{g, h, at, to, 0.05})
		}
	}
	m.Visible = len(m.Nodes)
	return m
}

func TestDepthsComeOutOfThreePhotos(t *testing.T) {
	a, b, c := from(52, 47, 150), from(95, 50, 115), from(50, 96, 115)
	photos := []Photo{seenFrom(t, a, 0, 0), seenFrom(t, b, 0, 0), seenFrom(t, c, 0, 0)}
	d, err := Fit(gridOf10, photos, []Matches{groundSeen(a, b), groundSeen(a, c)})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Squares) != 100 || d.IfUnmoved {
		t.Errorf("%d squares, if unmoved: %v", len(d.Squares), d.IfUnmoved)
	}
	for _, s := range d.Squares {
		if want := 6 + 0.06*s.UCm; math.Abs(s.BelowCm-want) > 0.15 || s.UBelowCm < 0.05 || s.UBelowCm > 1 {
			t.Errorf("square %d, %d: %.2f ± %.2f cm, want %.2f", s.Column, s.Row, s.BelowCm, s.UBelowCm, want)
		}
	}
	p, _ := a.Photo(20, 20, 7.2)
	q, _ := a.Photo(80, 60, 10.8)
	if s, ok := d.UnderSegment(p, q, 0); !ok || math.Abs(s.LengthCm.Value-math.Sqrt(60*60+40*40+3.6*3.6)) > s.LengthCm.U {
		t.Errorf("length %+v, %v", s, ok)
	}
}

// TestAFrameThatMovedIsRefused: by 1 cm across the line between the cameras.
func TestAFrameThatMovedIsRefused(t *testing.T) {
	a, b := from(52, 47, 150), from(95, 50, 115)
	for _, moved := range []bool{false, true} {
		by := 0.0
		if moved {
			by = 1
		}
		_, err := Fit(gridOf10, []Photo{seenFrom(t, a, 0, 0), seenFrom(t, b, 0, by)}, []Matches{groundSeen(a, b)})
		var refusal *Refusal
		if errors.As(err, &refusal) != moved || moved && refusal.Why != WhyMoved {
			t.Errorf("moved %v: %v", moved, err)
		}
	}
}

func TestAReadingThatIsNotClearIsRefused(t *testing.T) {
	a, b := from(52, 47, 150), from(95, 50, 115)
	m := groundSeen(a, b)
	m.Second = 0.75
	var refusal *Refusal
	if _, err := Fit(gridOf10, []Photo{seenFrom(t, a, 0, 0), seenFrom(t, b, 0, 0)}, []Matches{m}); !errors.As(err, &refusal) || refusal.Why != WhyReading {
		t.Errorf("%v", err)
	}
}

func TestAMirroredReadingHasNoCamera(t *testing.T) {
	p := seenFrom(t, from(52, 47, 150), 0, 0)
	mirrored := *p.Plane
	for _, i := range []int{0, 3, 6} {
		mirrored.Homography[i] = -mirrored.Homography[i]
	}
	if _, ok := (Photo{Plane: p.Plane}).Camera(Turn{}); !ok {
		t.Error("no camera for a plane as it lies")
	}
	if _, ok := (Photo{Plane: &mirrored}).Camera(Turn{}); ok {
		t.Error("a camera below the ground")
	}
}
