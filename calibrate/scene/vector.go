package scene

import "math"

// vec is a point or direction in the world, in cm.
type vec struct{ x, y, z float64 }

func (a vec) plus(b vec) vec      { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) minus(b vec) vec     { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(s float64) vec { return vec{a.x * s, a.y * s, a.z * s} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) cross(b vec) vec     { return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x} }
func (a vec) turned(k vec, rad float64) vec { // about the unit axis k
	sin, cos := math.Sincos(rad)
	return a.times(cos).plus(k.cross(a).times(sin)).plus(k.times(k.dot(a) * (1 - cos)))
}

// heading is the unit vector that leans leanDeg from straight up towards a bearing, clockwise from +y.
func heading(leanDeg, bearingDeg float64) vec {
	sin, cos := math.Sincos(leanDeg * math.Pi / 180)
	sb, cb := math.Sincos(bearingDeg * math.Pi / 180)
	return vec{sin * sb, sin * cb, cos}
}

// A Pose is how a flat thing lies: its middle, the turn of its first direction, and a lean of its plane.
type Pose struct {
	XCm, YCm, ZCm float64 // of the middle of its upper face
	TurnDeg       float64 // of its first direction, clockwise from +x as seen from above
	LeanDeg       float64 // between its normal and straight up
	LeanToDeg     float64 // the bearing that the normal leans to, clockwise from +y
}

// axes are a pose worked out: where its middle lies, and its unit vectors u to
// the right, v down the sheet and up out of it.
type axes struct{ at, u, v, up vec }

func (p Pose) axes() axes {
	sin, cos := math.Sincos(p.TurnDeg * math.Pi / 180)
	f := axes{at: vec{p.XCm, p.YCm, p.ZCm}, u: vec{cos, -sin, 0}, v: vec{-sin, -cos, 0}, up: vec{0, 0, 1}}
	if p.LeanDeg != 0 {
		axis := vec{0, 0, 1}.cross(heading(90, p.LeanToDeg))
		rad := p.LeanDeg * math.Pi / 180
		f.u, f.v, f.up = f.u.turned(axis, rad), f.v.turned(axis, rad), f.up.turned(axis, rad)
	}
	return f
}

// world takes (u, v) on the pose's plane and a height out of it to the world.
func (f axes) world(u, v, out float64) vec {
	return f.at.plus(f.u.times(u)).plus(f.v.times(v)).plus(f.up.times(out))
}

// local takes a direction to the pose's own coordinates; out is positive out of the sheet.
func (f axes) local(d vec) (u, v, out float64) { return f.u.dot(d), f.v.dot(d), f.up.dot(d) }
