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

// What a tilt of up to 20 degrees may do to a length where two points alone tell the scale: nothing along the line between them, 1 -
// cos 20° across it and what lies nearer or farther along the length; away from its middle by d, 2 sin 20° d on top. Lengths in the
// focal length's unit.
func TestWhatATiltMayDo(t *testing.T) {
	from, to := Point{XPx: 1000, YPx: 800}, Point{XPx: 2200, YPx: 1700} // 1500 px
	p, err := FitPoints(Reference{Kind: KindPoints, LengthCm: 30, From: &from, To: &to}, Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26})
	if err != nil {
		t.Fatal(err)
	}
	unit := p.Camera.unit()
	sin, cos := math.Sincos(20 * math.Pi / 180)
	along := func(mid Point, dx, dy, long float64) (a, b Point) {
		return Point{XPx: mid.XPx - dx*long/2, YPx: mid.YPx - dy*long/2}, Point{XPx: mid.XPx + dx*long/2, YPx: mid.YPx + dy*long/2}
	}
	middle := Point{XPx: 1600, YPx: 1250}
	aside := Point{XPx: 1600 + 0.8*300, YPx: 1250 + 0.6*300}
	for name, c := range map[string]struct {
		mid    Point
		dx, dy float64
		want   float64
	}{
		"along the line":         {middle, 0.8, 0.6, 0},
		"across it":              {middle, -0.6, 0.8, 1 - cos + sin*500/unit/4},
		"across, turned":         {middle, 0.6, -0.8, 1 - cos + sin*500/unit/4},
		"at 30 degrees":          {middle, 0.8*math.Sqrt(3)/2 - 0.6/2, 0.6*math.Sqrt(3)/2 + 0.8/2, (1-cos)/4 + sin*500/unit/4/2},
		"along, 300 px away":     {aside, 0.8, 0.6, sin * 2 * 300 / unit},
		"across it, 300 px away": {aside, -0.6, 0.8, 1 - cos + sin*(2*300+500/4)/unit},
	} {
		a, b := along(c.mid, c.dx, c.dy, 500)
		if got := p.tiltBound(a, b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.5f, want %.5f", name, got, c.want)
		}
	}
	if got := p.tiltBound(middle, middle); got != 0 {
		t.Errorf("of no length: %g", got)
	}
}

// Points are moved to their centre and scaled to a mean distance of the square root of two from it (Hartley and Zisserman, Multiple
// View Geometry, 2nd ed. 2003, p. 107).
func TestBalance(t *testing.T) {
	pairs := []pair{{x: 10, y: 100}, {x: 30, y: 100}, {x: 30, y: 160}, {x: 10, y: 160}, {x: 70, y: -20}}
	at := func(p pair) (float64, float64) { return p.x, p.y }
	h, ok := balance(pairs, at)
	if !ok {
		t.Fatal("not balanced")
	}
	var mx, my, far float64
	for _, p := range pairs {
		x, y, _ := h.apply(p.x, p.y)
		mx, my, far = mx+x/5, my+y/5, far+math.Hypot(x, y)/5
	}
	if math.Hypot(mx, my) > 1e-12 || math.Abs(far-math.Sqrt2) > 1e-12 {
		t.Errorf("the middle is (%g, %g), the mean distance %g", mx, my, far)
	}
	if _, ok := balance([]pair{{x: 1, y: 2}, {x: 1, y: 2}}, at); ok {
		t.Error("points in one place are balanced")
	}
}

// Strings that scatter by half a millimetre are no proof that the next ones do: the tolerance of their places stays in U, less what they
// are seen to scatter. The same marks give a larger U with a tolerance of 3 mm than as exact strings, growing with the tolerance.
func TestToleranceStaysInU(t *testing.T) {
	rng := rand.New(rand.NewPCG(47, 48))
	g := tilted(rng, 15)
	g.noisePx, g.offCm = 0.2, 0.06
	marks := g.marks(rng)
	var us []float64
	for _, tolerance := range []float64{0, 0.3, 0.6} {
		p, err := FitGrid(gridRef(t, func(r *Reference) { r.ToleranceCm = &tolerance }), g.camera, marks)
		if err != nil {
			t.Fatal(err)
		}
		level, _ := p.At(0)
		a, _ := level.Photo(p.Corners[0][0], p.Corners[0][1])
		b, _ := level.Photo(p.Corners[2][0], p.Corners[2][1])
		q, err := level.LengthCm(a, b)
		if err != nil {
			t.Fatal(err)
		}
		us = append(us, q.U/q.Value)
	}
	if us[1] < 4*us[0] || us[2] < 1.6*us[1] {
		t.Errorf("relative U %.5f exact, %.5f at 3 mm, %.5f at 6 mm", us[0], us[1], us[2])
	}
}
