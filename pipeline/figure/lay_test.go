package figure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// What [Lay.OfPlane] puts on the plate comes from the same place of the plane, however the plate lies over it; the mirrored plate has
// it as far from its other margin.
func TestThePlateAndThePlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn, scale := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn"), rapid.Float64Range(0.05, 0.5).Draw(t, "cm a px")
		sin, cos := math.Sincos(turn)
		l := Lay{Picture: look.Picture{WidthPx: 640, HeightPx: 480, From: [6]float64{
			scale * cos, -scale * sin, rapid.Float64Range(-80, 80).Draw(t, "u"), scale * sin, 1.1 * scale * cos, rapid.Float64Range(-80, 80).Draw(t, "v")}}}
		u, v := rapid.Float64Range(-90, 90).Draw(t, "pu"), rapid.Float64Range(-90, 90).Draw(t, "pv")
		x, y := l.OfPlane(u, v)
		if su, sv := l.Picture.Source(x, y); math.Hypot(su-u, sv-v) > 1e-6 {
			t.Fatalf("(%g, %g) cm comes back as (%g, %g)", u, v, su, sv)
		}
		m := l.Mirror()
		if mx, my := m.OfPlane(u, v); math.Hypot(mx-(639-x), my-y) > 1e-6 || !m.Mirrored || m.Mirror().Mirrored {
			t.Fatalf("(%g, %g) px is at (%g, %g) in the mirror", x, y, mx, my)
		}
	})
}

// Directions are counted clockwise from the plate's top, y down.
func TestDirections(t *testing.T) {
	for _, c := range []struct{ dx, dy, want float64 }{{0, -1, 0}, {1, -1, 45}, {1, 0, 90}, {0, 1, 180}, {-1, 0, 270}, {-1, -1, 315}} {
		if got := clockwiseDeg(c.dx, c.dy); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("(%g, %g) points to %g°, want %g°", c.dx, c.dy, got, c.want)
		}
	}
	for deg, want := range map[float64]float64{0: 0, -10: 350, 370: 10, 360: 0, -730: 350, 359: 359} {
		if got := positiveDeg(deg); got != want {
			t.Errorf("%g° is %g°, want %g°", deg, got, want)
		}
	}
	for _, c := range []struct{ a, b, want float64 }{{10, 350, 20}, {350, 10, 20}, {90, 270, 180}, {0, 181, 179}, {5, 5, 0}} {
		if got := apartDeg(c.a, c.b); got != c.want {
			t.Errorf("%g° and %g° are %g° apart, want %g°", c.a, c.b, got, c.want)
		}
	}
	for _, c := range []struct {
		dx, dy float64
		taken  []string
		want   string
	}{
		{0, -1, nil, "top"}, {1, 0, nil, "right"}, {0, 1, nil, "bottom"}, {-1, 0, nil, "left"}, {2, -1, nil, "right"}, {-1, 2, nil, "bottom"},
		{2, -1, []string{"right"}, "top"}, {2, -1, []string{"right", "top"}, "bottom"}, {1, 1, nil, "right"},
	} {
		if got := sideOf(c.dx, c.dy, c.taken...); got != c.want {
			t.Errorf("(%g, %g) without %q is the %s, want the %s", c.dx, c.dy, c.taken, got, c.want)
		}
	}
	plain, mirror := flat(), flat().Mirror()
	if b := plain.bearingDeg(100, 30); b != 70 {
		t.Errorf("100° on a plate whose north is at 30° bears %g°, want 70°", b)
	}
	if b := mirror.bearingDeg(290, 30); b != 100 { // the plate's 290° lies 100° to the left of its north, which is to the right in truth
		t.Errorf("mirrored: 290° on a plate whose north is at 30° bears %g°, want 100°", b)
	}
	for _, l := range []Lay{plain, mirror} {
		for _, bearing := range []float64{0, 70, 200, 359} {
			if got := l.bearingDeg(l.turnOf(bearing, 30), 30); math.Abs(got-bearing) > 1e-9 {
				t.Errorf("mirrored %t: %g° comes back as %g°", l.Mirrored, bearing, got)
			}
		}
	}
	if _, ok := plain.turnDeg(Arrow{at(5, 5), at(5, 5)}); ok {
		t.Error("an arrow of no length has a direction")
	}
}

func at(x, y float64) calibrate.Point { return calibrate.Point{XPx: x, YPx: y} }

// The whole picture is inside, its rim too, and nothing beyond.
func TestInside(t *testing.T) {
	l := flat() // 1000 x 800
	for p, want := range map[[2]float64]bool{
		{0, 0}: true, {999, 799}: true, {500, 400}: true, {-0.1, 400}: false, {999.1, 400}: false, {500, -0.1}: false, {500, 799.1}: false, {-1, -1}: false, {1200, 900}: false,
		{0, 799}: true, {999, 0}: true,
	} {
		if got := l.Inside(p[0], p[1]); got != want {
			t.Errorf("%v inside: %t", p, got)
		}
	}
}

// away is a plane seen at a slant, so that the ground ends at a horizon within the picture.
func away() *calibrate.Plane {
	p := square(150)
	p.Homography[7] = 1.0 / 60 // towards positive v it lies farther off; the horizon is at y = 60/150 of the focal length
	return p
}

// What lies at or above the horizon is not on the plate.
func TestBeyondTheHorizon(t *testing.T) {
	l := Lay{Picture: look.Picture{WidthPx: 1000, HeightPx: 1000, Plane: away(), From: [6]float64{0.1, 0, -50, 0, 0.1, -50}}}
	level, _ := l.Picture.Plane.At(0)
	p, ok := level.Photo(10, -20)
	if !ok {
		t.Fatal("the place is not in the photo")
	}
	if x, y, ok := l.Plate(p); !ok || math.Hypot(x-600, y-300) > 1e-6 {
		t.Errorf("(10, -20) cm is at (%g, %g), %t, want (600, 300)", x, y, ok)
	}
	sky := at(2000, 2900)
	if _, _, ok := l.Plate(sky); ok {
		t.Error("the sky is on the plate")
	}
	if _, ok := l.turnDeg(Arrow{p, sky}); ok {
		t.Error("an arrow into the sky has a direction")
	}
	if _, ok := l.turnDeg(Arrow{sky, p}); ok {
		t.Error("an arrow out of the sky has a direction")
	}
	if _, ok := Own(Outline{Points: []calibrate.Point{p, p, sky}}, l); ok {
		t.Error("an outline into the sky is drawn")
	}
}

// An arrow on the plane starts at its place and runs its way.
func TestArrowOnThePlane(t *testing.T) {
	p := square(150)
	level, _ := p.At(0)
	tail, _ := level.Photo(10, -20)
	head, _ := level.Photo(13, -24)
	if a, ok := arrowOn(p, 10, -20, 3, -4); !ok || a != (Arrow{tail, head}) {
		t.Errorf("%+v, %t, want %+v", a, ok, Arrow{tail, head})
	}
	if _, ok := arrowOn(away(), 0, 0, 0, -500); ok {
		t.Error("an arrow behind the camera is drawn")
	}
	if _, ok := arrowOn(away(), 0, -500, 0, 500); ok {
		t.Error("an arrow from behind the camera is drawn")
	}
}
