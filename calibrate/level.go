package calibrate

import (
	"fmt"
	"math"
)

// A Level is a height at which a length holds: the plane itself or one
// parallel to it, farther from the camera.
type Level struct {
	plane   *Plane
	belowCm float64
	own     *maps // of the plane as it was fitted; nil: not worked out beforehand
}

// At gives the level belowCm behind the plane as the camera sees it (0: the
// plane itself). A level off the plane needs the camera's focal length, and
// lies within the distance of the camera; else the error is a *Refusal.
func (p *Plane) At(belowCm float64) (Level, error) {
	if math.IsNaN(belowCm) || math.Abs(belowCm) > 1e4 {
		return Level{}, fmt.Errorf("level %g cm below: want a number from -10000 to 10000", belowCm)
	}
	l := Level{plane: p, belowCm: belowCm}
	if belowCm == 0 {
		return l.worked(), nil
	}
	if _, _, ok := p.Camera.FocalPx(); !ok {
		return Level{}, Refuse("use the original photo of the phone, which carries its focal length, or lay the reference at the bone's level",
			"the photo does not tell its focal length, so nothing %g cm below the reference can be measured", belowCm)
	}
	q, ok := poseFor(p.h(), 1)
	if !ok || p.TiltAllowanceDeg > 0 {
		return Level{}, Refuse("use a grid, card or checkerboard", "two points do not tell how the reference lies, so no level below it is known")
	}
	if belowCm <= -0.8*q.distanceCm {
		return Level{}, Refuse("give a smaller height", "a level %g cm above the reference is at the camera, which is %.0f cm away", -belowCm, q.distanceCm)
	}
	return l.worked(), nil
}

// BelowCm is how far behind the reference's plane the level lies.
func (l Level) BelowCm() float64 { return l.belowCm }

// state is the vector that uncertainties are propagated through: the eight
// elements of the homography, K1, and the focal length over the camera's unit.
type state [params + 1]float64

func (l Level) state() (s state) {
	copy(s[:8], l.plane.Homography[:8])
	s[8], s[9] = l.plane.K1, 1
	return s
}

// Cm takes a photo point to (U, V) in cm on the level. A point at or beyond
// the plane's horizon, or where the lens model folds, is an error.
func (l Level) Cm(p Point) (u, v float64, err error) {
	m := l.maps()
	u, v, ok := l.back(m.from, l.plane.K1, p)
	if !ok || !m.solved {
		return 0, 0, fmt.Errorf("photo point (%g, %g) px does not lie on the plane: it is beyond its horizon or outside the lens's field", p.XPx, p.YPx)
	}
	return u, v, nil
}

// Photo takes (U, V) in cm on the level to a photo point, which may lie
// outside the picture; false behind the camera.
func (l Level) Photo(u, v float64) (Point, bool) {
	m := l.maps()
	x, y, ok := m.to.apply(u, v)
	if !ok || !m.seen {
		return Point{}, false
	}
	xd, yd := bend(x, y, l.plane.K1)
	return l.plane.Camera.photo(xd, yd), true
}

// LengthCm is the distance on the level between two photo points, in cm. The
// two points count as exact; see [Level.PickedLengthCm].
func (l Level) LengthCm(a, b Point) (Quantity, error) { return l.PickedLengthCm(a, b, 0) }

// PickedLengthCm is LengthCm with the standard uncertainty of each picked
// coordinate, in px, taken into U.
func (l Level) PickedLengthCm(a, b Point, uPickPx float64) (Quantity, error) {
	if _, _, err := l.Cm(a); err != nil {
		return Quantity{}, err
	}
	if _, _, err := l.Cm(b); err != nil {
		return Quantity{}, err
	}
	value := l.lengthCm(l.state(), a, b)
	variance := l.variance(func(s state) float64 { return l.lengthCm(s, a, b) })
	if uPickPx > 0 {
		for _, d := range []Point{{1, 0}, {0, 1}} {
			ga := l.lengthCm(l.state(), Point{a.XPx + d.XPx, a.YPx + d.YPx}, b) - value
			gb := l.lengthCm(l.state(), a, Point{b.XPx + d.XPx, b.YPx + d.YPx}) - value
			variance += (ga*ga + gb*gb) * uPickPx * uPickPx
		}
	}
	common := math.Hypot(l.plane.URel, uModelRel)
	variance += common * common * value * value
	if t := l.plane.TiltAllowanceDeg; t > 0 {
		bound := l.plane.tiltBound(a, b)
		variance += bound * bound / 3 * value * value
	}
	u := 2 * math.Sqrt(variance)
	if math.IsNaN(u) {
		return Quantity{}, fmt.Errorf("length between (%g, %g) and (%g, %g) px: its uncertainty is not defined, too close to the plane's horizon", a.XPx, a.YPx, b.XPx, b.YPx)
	}
	return Quantity{value, u}, nil
}

// lengthCm is the distance on the level between two photo points for a state; not a number where one of them is not on it.
func (l Level) lengthCm(s state, a, b Point) float64 {
	from, ok := l.inverse(s)
	ua, va, oka := l.back(from, s[8], a)
	ub, vb, okb := l.back(from, s[8], b)
	if !ok || !oka || !okb {
		return math.NaN()
	}
	return math.Hypot(ub-ua, vb-va)
}

// uModelRel is the relative standard uncertainty of the model itself: what a
// lens does beyond one radial term. Set from renders with exact truth.
const uModelRel = 2e-5

// ScalePxPerCm is the local scale at (u, v) cm on the level: the root of the
// area that one square centimetre takes in the photo, in px/cm.
func (l Level) ScalePxPerCm(u, v float64) (Quantity, error) {
	at := func(s state) float64 {
		h, ok := l.homography(s)
		if !ok {
			return math.NaN()
		}
		const d = 0.01 // cm
		var q [4][2]float64
		for i, o := range [][2]float64{{-d, 0}, {d, 0}, {0, -d}, {0, d}} {
			x, y, ok := h.apply(u+o[0], v+o[1])
			if !ok {
				return math.NaN()
			}
			q[i][0], q[i][1] = bend(x, y, s[8])
		}
		area := (q[1][0]-q[0][0])*(q[3][1]-q[2][1]) - (q[1][1]-q[0][1])*(q[3][0]-q[2][0])
		return math.Sqrt(math.Abs(area)) / (2 * d) * l.plane.Camera.unit()
	}
	value := at(l.state())
	if math.IsNaN(value) || value <= 0 {
		return Quantity{}, fmt.Errorf("no scale at (%g, %g) cm: the place is behind the camera", u, v)
	}
	common := math.Hypot(l.plane.URel, uModelRel) * value
	variance := l.variance(at) + common*common
	if t := l.plane.TiltAllowanceDeg; t > 0 {
		// px/cm is the root of an area, which a tilt shrinks by its cosine.
		bound := (1/math.Sqrt(math.Cos(t*math.Pi/180)) - 1) * value
		variance += bound * bound / 3
	}
	return Quantity{value, 2 * math.Sqrt(variance)}, nil
}

// variance propagates the plane's covariance and the focal length's
// uncertainty through f by central differences (JCGM 100:2008, 5.1.3 and
// 5.2.2).
func (l Level) variance(f func(state) float64) float64 {
	var gradient [params + 1]float64
	for i := range gradient {
		u := l.uParam(i)
		if u == 0 {
			continue
		}
		hi, lo := l.state(), l.state()
		step := u / 10
		hi[i] += step
		lo[i] -= step
		gradient[i] = (f(hi) - f(lo)) / (2 * step)
	}
	variance := 0.0
	for i := range params {
		for j := range params {
			variance += gradient[i] * gradient[j] * l.plane.cov(i, j)
		}
	}
	last := gradient[params] * l.uParam(params)
	return max(0, variance) + last*last
}

// uParam is the standard uncertainty of one element of the state.
func (l Level) uParam(i int) float64 {
	if i < params {
		return math.Sqrt(max(0, l.plane.cov(i, i)))
	}
	if l.belowCm == 0 {
		return 0
	}
	_, uRel, _ := l.plane.Camera.FocalPx()
	return uRel
}
