package calibrate

import "math"

// pointsTiltDeg is the tilt that two points are allowed to hide: a person who
// tries to hold a phone square to the ground stays within it (common
// practice, no source).
const pointsTiltDeg = 20

// FitPoints makes the plane of two hand-given points. They tell one length
// and no tilt: the picture is taken as square to the plane, and U carries a
// tilt of up to 20 degrees either way, which costs nothing along the line
// between the points and much across it and away from it. How well they were
// picked (ref.PickPx) is in U too.
func FitPoints(ref Reference, camera Camera) (*Plane, error) {
	if err := ref.Validate(); err != nil {
		return nil, err
	}
	if err := camera.Validate(); err != nil {
		return nil, err
	}
	ax, ay := camera.normalise(*ref.From)
	bx, by := camera.normalise(*ref.To)
	c, s := (bx-ax)/ref.LengthCm, (by-ay)/ref.LengthCm
	p := &Plane{
		Camera:           camera,
		Homography:       [9]float64{c, -s, ax, s, c, ay, 0, 0, 1},
		Marks:            2,
		Used:             2,
		URel:             ref.uRel(),
		TiltAllowanceDeg: pointsTiltDeg,
		Corners:          [4][2]float64{{0, 0}, {ref.LengthCm, 0}, {ref.LengthCm, 0}, {0, 0}},
	}
	px := math.Hypot(ref.To.XPx-ref.From.XPx, ref.To.YPx-ref.From.YPx)
	p.URel = math.Hypot(p.URel, ref.PickPx*math.Sqrt2/px)
	return p, nil
}

// tiltBound is the largest relative error that the allowed tilt can put on the
// length from a to b. Three effects add up: foreshortening across the line,
// (1 - cos t) sin^2 of the angle to it; the plane coming nearer or going away
// with the distance d from the line's middle, which counts once for nearness and
// once more for foreshortening in depth, 2 sin t d / f; the same along the
// segment's own extent.
func (p *Plane) tiltBound(a, b Point) float64 {
	tilt := p.TiltAllowanceDeg * math.Pi / 180
	ax, ay := p.Camera.normalise(a)
	bx, by := p.Camera.normalise(b)
	h := p.Homography
	u, v := p.MiddleCm()
	mx, my := h[0]*u+h[1]*v+h[2], h[3]*u+h[4]*v+h[5]
	dx, dy := bx-ax, by-ay
	length := math.Hypot(dx, dy)
	if length == 0 {
		return 0
	}
	sin := (dx*h[3] - dy*h[0]) / length / math.Hypot(h[0], h[3])
	away := math.Hypot((ax+bx)/2-mx, (ay+by)/2-my)
	return (1-math.Cos(tilt))*sin*sin + math.Sin(tilt)*(2*away+length/4*math.Abs(sin))
}
