package scene

import (
	"math"

	"fieldjacket/calibrate"
)

// A Camera is the phone and how it is held. It looks at a place on the ground's mean level.
type Camera struct {
	WidthPx, HeightPx int     // of the upright picture
	Focal35Mm         float64 // the true one; the tag is a whole number, see [Camera.TagFocal35Mm]
	K1                float64 // x_d = x (1 + K1 r^2), x in focal lengths
	AimXCm, AimYCm    float64 // where the optical axis meets z = AimZCm
	AimZCm            float64
	DistanceCm        float64 // from there to the lens
	TiltDeg           float64 // between the optical axis and plumb
	HeadingDeg        float64 // the bearing the camera is tilted towards, clockwise from +y
	RollDeg           float64 // about the optical axis; the picture turns anticlockwise as it grows
}

// FocalPx is the true focal length in pixels.
func (c Camera) FocalPx() float64 {
	return c.Focal35Mm / calibrate.Diagonal35Mm * math.Hypot(float64(c.WidthPx), float64(c.HeightPx))
}

// TagFocal35Mm is what the phone writes as FocalLengthIn35mmFilm: a whole number.
func (c Camera) TagFocal35Mm() int { return int(math.Round(c.Focal35Mm)) }

// eye is a camera worked out.
type eye struct {
	at                   vec
	right, down, forward vec
	focal, k1            float64
	cx, cy               float64
	straight             []float32 // by the square of the bent radius: straight radius over bent radius
	perSq                float64   // entries per squared radius
}

// straightSteps is the length of the lens table. Linear steps between its entries err by less than 1e-6 of the radius.
const straightSteps = 4096

func (c Camera) eye() *eye {
	e := &eye{focal: c.FocalPx(), k1: c.K1, cx: float64(c.WidthPx-1) / 2, cy: float64(c.HeightPx-1) / 2}
	e.forward = heading(180-c.TiltDeg, c.HeadingDeg)
	e.right = heading(90, c.HeadingDeg+90)
	e.down = e.forward.cross(e.right)
	roll := c.RollDeg * math.Pi / 180
	e.right, e.down = e.right.turned(e.forward, roll), e.down.turned(e.forward, roll)
	e.at = vec{c.AimXCm, c.AimYCm, c.AimZCm}.minus(e.forward.times(c.DistanceCm))
	corner := math.Hypot(e.cx+2, e.cy+2) / e.focal * 1.02
	e.perSq = straightSteps / (corner * corner)
	e.straight = make([]float32, straightSteps+2)
	for i := range e.straight {
		e.straight[i] = float32(straighten(math.Sqrt(float64(i)/e.perSq), c.K1))
	}
	return e
}

// straighten gives the straight radius over the bent one.
func straighten(bent, k1 float64) float64 {
	if bent == 0 {
		return 1
	}
	r := bent
	for range 40 {
		step := (r + k1*r*r*r - bent) / (1 + 3*k1*r*r)
		r -= step
		if math.Abs(step) < 1e-14 {
			break
		}
	}
	return r / bent
}

// ray is the direction that a photo point looks to; its length is not one.
func (e *eye) ray(xPx, yPx float64) vec {
	x, y := (xPx-e.cx)/e.focal, (yPx-e.cy)/e.focal
	at := (x*x + y*y) * e.perSq
	i := int(at)
	if i > straightSteps {
		i = straightSteps
	}
	f := at - float64(i)
	s := float64(e.straight[i])*(1-f) + float64(e.straight[i+1])*f
	x, y = x*s, y*s
	return vec{
		e.right.x*x + e.down.x*y + e.forward.x,
		e.right.y*x + e.down.y*y + e.forward.y,
		e.right.z*x + e.down.z*y + e.forward.z,
	}
}

// photo takes a world point to the photo; false behind the camera.
func (e *eye) photo(p vec) (calibrate.Point, bool) {
	d := p.minus(e.at)
	z := e.forward.dot(d)
	if z < 1e-9 {
		return calibrate.Point{}, false
	}
	x, y := e.right.dot(d)/z, e.down.dot(d)/z
	s := (1 + e.k1*(x*x+y*y)) * e.focal
	return calibrate.Point{XPx: x*s + e.cx, YPx: y*s + e.cy}, true
}

// exactRay is ray without the table.
func (e *eye) exactRay(p calibrate.Point) vec {
	x, y := (p.XPx-e.cx)/e.focal, (p.YPx-e.cy)/e.focal
	s := straighten(math.Hypot(x, y), e.k1)
	return e.right.times(x * s).plus(e.down.times(y * s)).plus(e.forward)
}
