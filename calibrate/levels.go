package calibrate

import "math"

// What depth between two references of one photo is believed: strings over a
// pit's floor, a bar on the bone. Beyond it one of the two is taken for what it
// is not (half a pitch, an inch for a centimetre).
const (
	maxDepthCm    = 60
	maxOverCm     = 25  // of anything over strings, which are hung above all that lies under them
	maxDepthShare = 0.7 // of the strings' distance from the camera: nobody takes strings from so near
)

// DepthBetween tells how far b's middle lies behind a's plane as the camera
// sees it, with U (k = 2), negative where it lies before it. Two references
// whose scales differ as two levels would do not contradict each other: they
// measure the depth. Only where no depth of up to 60 cm explains them (under
// strings up to 0.7 of their distance, over them up to 25 cm) the error is a
// *Refusal that names both; another is where the photo does not tell its
// focal length, without which a difference of scale is no length.
//
// U holds both planes' covariances, both references' own sizes and the focal
// length, which is common to both (JCGM 100:2008, 5.2.2).
func DepthBetween(a, b Sighting) (Quantity, error) {
	if a.Plane == nil || b.Plane == nil {
		return Quantity{}, Refuse(retakeLevels, "%s and %s: both have to be scaled before the depth between them is", a.Reference, b.Reference)
	}
	_, uFocal, known := a.Plane.Camera.FocalPx()
	if !known || a.Plane.Camera != b.Plane.Camera {
		return Quantity{}, Refuse("use the original photo of the phone, which carries its focal length",
			"%s and %s: the photo does not tell its focal length, so the depth between them is not known", a.Reference, b.Reference)
	}
	depth := func(s, t state, ratio float64) float64 {
		d, ok := behind(s, t, ratio, b.Plane)
		if !ok {
			return math.NaN()
		}
		return d
	}
	la, lb := Level{plane: a.Plane}, Level{plane: b.Plane}
	sa, sb := la.state(), lb.state()
	q := Quantity{Value: depth(sa, sb, 1)}
	variance := la.variance(func(s state) float64 { return depth(s, sb, 1) }) + lb.variance(func(t state) float64 { return depth(sa, t, 1) })
	byFocal := (depth(sa, sb, 1.01) - depth(sa, sb, 0.99)) / 0.02
	variance += byFocal * byFocal * uFocal * uFocal
	for _, p := range []*Plane{a.Plane, b.Plane} {
		pose, ok := poseFor(p.h(), 1)
		if !ok {
			q.Value = math.NaN()
			break
		}
		own := math.Hypot(p.URel, uModelRel) * pose.distanceCm
		tilt := p.TiltAllowanceDeg * math.Pi / 180
		lean := math.Sin(tilt)*apartCm(a.Plane, b.Plane) + (1-math.Cos(tilt))*pose.distanceCm
		variance += own*own + lean*lean/3
	}
	q.U = 2 * math.Sqrt(variance)
	if math.IsNaN(q.Value) || math.IsNaN(q.U) {
		return Quantity{}, Refuse(retakeLevels, "%s and %s: how they lie to each other is not defined", a.Reference, b.Reference)
	}
	if over, below := depthLimits(a, b); q.Value+q.U < -over || q.Value-q.U > below {
		limit := below
		if q.Value < 0 {
			limit = over
		}
		return Quantity{}, Refuse(retakeLevels, "%s and %s contradict each other: one would have to lie %.0f ± %.0f cm from the other's level, limit %.0f cm", a.Reference, b.Reference, math.Abs(q.Value), q.U, limit).At(Contradicts)
	}
	return q, nil
}

// depthLimits are how far b is believed to lie over and below a's level.
func depthLimits(a, b Sighting) (over, below float64) {
	over, below = maxDepthCm, maxDepthCm
	hung := func(s Sighting) float64 {
		far, _ := s.Plane.DistanceCm()
		return min(maxDepthCm, maxDepthShare*far.Value)
	}
	strings, other := a.Reference.Kind == KindGrid, b.Reference.Kind == KindGrid
	switch {
	case strings && !other:
		over, below = maxOverCm, hung(a)
	case other && !strings:
		over, below = hung(b), maxOverCm
	}
	return over, below
}

const retakeLevels = "check the sizes given for both against the real ones, or leave one of them out of the picture"

// behind is the distance of the middle of plane b, in state t, from the plane
// in state s, along that plane's normal.
func behind(s, t state, ratio float64, b *Plane) (float64, bool) {
	front, okA := poseFor(homography{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}, ratio)
	at, okB := middleCm(homography{t[0], t[1], t[2], t[3], t[4], t[5], t[6], t[7], 1}, ratio, b)
	n := front.normal
	return n[0]*at[0] + n[1]*at[1] + n[2]*at[2] - front.distanceCm, okA && okB
}

// middleCm is the middle of a plane's measured area in the camera's frame, in cm.
func middleCm(h homography, ratio float64, p *Plane) (at [3]float64, ok bool) {
	q, ok := poseFor(h, ratio)
	u, v := p.MiddleCm()
	at = [3]float64{
		(h[0]*u + h[1]*v + h[2]) / ratio / q.scale,
		(h[3]*u + h[4]*v + h[5]) / ratio / q.scale,
		(h[6]*u + h[7]*v + h[8]) / q.scale,
	}
	return at, ok
}

// apartCm is how far the middles of two planes lie apart, square to the
// camera's axis.
func apartCm(a, b *Plane) float64 {
	p, okA := middleCm(a.h(), 1, a)
	q, okB := middleCm(b.h(), 1, b)
	if !okA || !okB {
		return math.NaN()
	}
	return math.Hypot(p[0]-q[0], p[1]-q[1])
}
