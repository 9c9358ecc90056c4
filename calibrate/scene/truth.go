package scene

import (
	"fmt"
	"math"
	"math/rand/v2"

	"fieldjacket/calibrate"
)

// A Truth is what is exactly so in a rendered photo.
type Truth struct {
	Camera Camera
	Planes []Plane // one per reference that the scene holds: checkers first, then bars, grids, cards
	Tiles  []Plane // of the tiles at the frames' corners; Reference.Card is a tile's number
}

// A Plane is a reference's plane in a photo. U runs to the right of the reference, V down it, both in cm from its middle,
// so that the plane is seen as it lies, not mirrored, from above.
type Plane struct {
	Reference calibrate.Reference
	Marks     []calibrate.Mark // its corners or crossings at their true places
	HalfUCm   float64          // half its extent
	HalfVCm   float64
	RackDeg   float64  // a grid's: what its corners are off 90 degrees
	Cells     [2]int   // a grid's: across and down
	Strings   [][2]int // a grid's: which string of each family crosses at each mark
	eye       *eye
	axes      axes
}

// Photo takes (u, v) in cm on the plane, or on the plane belowCm behind it, to the photo; false behind the camera.
func (p Plane) Photo(uCm, vCm, belowCm float64) (calibrate.Point, bool) {
	return p.eye.photo(p.axes.world(uCm, vCm, -belowCm))
}

// Cm takes a photo point to the plane, or to the plane belowCm behind it; false at or beyond its horizon.
func (p Plane) Cm(at calibrate.Point, belowCm float64) (uCm, vCm float64, ok bool) {
	du, dv, dn := p.axes.local(p.eye.exactRay(at))
	ou, ov, on := p.axes.local(p.eye.at.minus(p.axes.at))
	t := -(on + belowCm) / dn
	if dn == 0 || !(t > 1e-9) || math.IsInf(t, 0) {
		return 0, 0, false
	}
	return ou + t*du, ov + t*dv, true
}

// InPicture tells whether a photo point lies in the picture.
func (p Plane) InPicture(at calibrate.Point) bool {
	return at.XPx >= 0 && at.YPx >= 0 && at.XPx <= 2*p.eye.cx && at.YPx <= 2*p.eye.cy
}

// TiltDeg is the angle between the optical axis and the plane's normal.
func (p Plane) TiltDeg() float64 {
	return math.Acos(min(1, math.Abs(p.axes.up.dot(p.eye.forward)))) * 180 / math.Pi
}

// ObliqueDeg is the angle between the plane's normal and the way from its middle to the lens.
func (p Plane) ObliqueDeg() float64 {
	way := p.eye.at.minus(p.axes.at)
	return math.Acos(min(1, math.Abs(p.axes.up.dot(way))/math.Sqrt(way.dot(way)))) * 180 / math.Pi
}

// DistanceCm is the lens's distance from the plane, at right angles to it.
func (p Plane) DistanceCm() float64 { return math.Abs(p.axes.up.dot(p.eye.at.minus(p.axes.at))) }

// ScalePxPerCm is the true local scale at (u, v): the root of the area that one square centimetre takes in the photo.
func (p Plane) ScalePxPerCm(uCm, vCm, belowCm float64) float64 {
	const d = 0.01
	var q [4]calibrate.Point
	for i, o := range [4][2]float64{{-d, 0}, {d, 0}, {0, -d}, {0, d}} {
		var ok bool
		if q[i], ok = p.Photo(uCm+o[0], vCm+o[1], belowCm); !ok {
			return math.NaN()
		}
	}
	area := (q[1].XPx-q[0].XPx)*(q[3].YPx-q[2].YPx) - (q[1].YPx-q[0].YPx)*(q[3].XPx-q[2].XPx)
	return math.Sqrt(math.Abs(area)) / (2 * d)
}

// A Segment is a length between two photo points.
type Segment struct {
	From, To calibrate.Point
	Cm       float64
}

// Segments gives n random lengths within the reference's extent and the picture, on the plane belowCm behind the
// reference's. It gives fewer where the reference is hardly in the picture.
func (p Plane) Segments(n int, belowCm float64, rng *rand.Rand) []Segment {
	var out []Segment
	for range 200 * n {
		var s [2]calibrate.Point
		var at [2][2]float64
		good := true
		for i := range s {
			at[i] = [2]float64{(2*rng.Float64() - 1) * p.HalfUCm, (2*rng.Float64() - 1) * p.HalfVCm}
			q, ok := p.Photo(at[i][0], at[i][1], belowCm)
			s[i] = q
			good = good && ok && p.InPicture(q)
		}
		length := math.Hypot(at[1][0]-at[0][0], at[1][1]-at[0][1])
		if good && length > 0.2*max(p.HalfUCm, p.HalfVCm) {
			if out = append(out, Segment{s[0], s[1], length}); len(out) == n {
				break
			}
		}
	}
	return out
}

// String names a segment for messages.
func (s Segment) String() string {
	return fmt.Sprintf("(%.2f, %.2f) to (%.2f, %.2f) px, %.4f cm", s.From.XPx, s.From.YPx, s.To.XPx, s.To.YPx, s.Cm)
}

// Place takes a place of the world to (u, v) in cm on the plane and how far it lies behind it.
func (p Plane) Place(xCm, yCm, zCm float64) (uCm, vCm, belowCm float64) {
	u, v, out := p.axes.local(vec{xCm, yCm, zCm}.minus(p.axes.at))
	return u, v, -out
}

// Cropped is the plane in a picture that lacks so many px at its left and its top.
func (p Plane) Cropped(leftPx, topPx float64) Plane {
	e := *p.eye
	e.cx, e.cy = e.cx-leftPx, e.cy-topPx
	p.eye = &e
	return p
}
