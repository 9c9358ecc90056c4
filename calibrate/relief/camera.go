package relief

import (
	"math"

	"fieldjacket/calibrate"
)

// A Camera is a view ready for use: x = R (X - C), X = (u, v, depth).
type Camera struct {
	r      [9]float64 // rotation, row by row: cm of the grid to the camera's x right, y down, z forward
	c      [3]float64 // place, cm; its depth is below zero
	f, k1  float64
	px, py float64
}

// CameraOf makes the camera of a view, see [View].
func CameraOf(s [viewSize]float64) Camera {
	return Camera{r: rotation([3]float64(s[0:3])), c: [3]float64(s[3:6]), f: s[6], k1: s[7], px: s[8], py: s[9]}
}

// Photo takes a place in the grid's frame to the photo; false behind the camera.
func (c *Camera) Photo(u, v, below float64) (calibrate.Point, bool) {
	a, b, d := u-c.c[0], v-c.c[1], below-c.c[2]
	z := c.r[6]*a + c.r[7]*b + c.r[8]*d
	if !(z > 1e-6) {
		return calibrate.Point{}, false
	}
	x, y := (c.r[0]*a+c.r[1]*b+c.r[2]*d)/z, (c.r[3]*a+c.r[4]*b+c.r[5]*d)/z
	s := c.f * (1 + c.k1*(x*x+y*y))
	return calibrate.Point{XPx: s*x + c.px, YPx: s*y + c.py}, true
}

// ray is the direction that a photo point looks to in the grid's frame.
func (c *Camera) ray(p calibrate.Point) (d [3]float64, ok bool) {
	x, y, ok := straighten((p.XPx-c.px)/c.f, (p.YPx-c.py)/c.f, c.k1)
	for i := range d {
		d[i] = c.r[i]*x + c.r[3+i]*y + c.r[6+i]
	}
	return d, ok
}

// Ground takes a photo point to the level below the strings; false where it
// looks past it.
func (c *Camera) Ground(p calibrate.Point, below float64) (u, v float64, ok bool) {
	d, ok := c.ray(p)
	if !ok || !(d[2] > 1e-6) {
		return 0, 0, false
	}
	t := (below - c.c[2]) / d[2]
	return c.c[0] + t*d[0], c.c[1] + t*d[1], t > 0
}

// straighten undoes x_d = x (1 + k1 r^2) by Newton's method; false where the
// model folds over.
func straighten(xd, yd, k1 float64) (x, y float64, ok bool) {
	q := k1 * (xd*xd + yd*yd)
	if q <= -4.0/27 {
		return 0, 0, false
	}
	s := 1.0
	for range 20 {
		step := (s + q*s*s*s - 1) / (1 + 3*q*s*s)
		s -= step
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return xd * s, yd * s, s > 0
}

// rotation is the matrix of a rotation vector (Rodrigues).
func rotation(w [3]float64) [9]float64 {
	angle := math.Sqrt(w[0]*w[0] + w[1]*w[1] + w[2]*w[2])
	a, b := 1-angle*angle/6, 0.5-angle*angle/24
	if angle > 1e-4 {
		a, b = math.Sin(angle)/angle, (1-math.Cos(angle))/(angle*angle)
	}
	x, y, z := w[0], w[1], w[2]
	return [9]float64{
		1 - b*(y*y+z*z), b*x*y - a*z, b*x*z + a*y,
		b*x*y + a*z, 1 - b*(x*x+z*z), b*y*z - a*x,
		b*x*z - a*y, b*y*z + a*x, 1 - b*(x*x+y*y),
	}
}

// times is the product of two 3 x 3 matrices, row by row.
func times(a, b [9]float64) (out [9]float64) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[3*i+j] += a[3*i+k] * b[3*k+j]
			}
		}
	}
	return out
}

// Level is the homography of one level below the strings: (u, v, 1) in cm to
// the straight picture, in focal lengths from the principal point.
func (c *Camera) Level(below float64) [9]float64 {
	t := [3]float64{}
	for i := range t {
		t[i] = c.r[3*i+2]*(below-c.c[2]) - c.r[3*i]*c.c[0] - c.r[3*i+1]*c.c[1]
	}
	return [9]float64{c.r[0], c.r[1], t[0], c.r[3], c.r[4], t[1], c.r[6], c.r[7], t[2]}
}

// Lens is the focal length (px), lens term and principal point (px).
func (c *Camera) Lens() (f, k1, px, py float64) { return c.f, c.k1, c.px, c.py }

// PlaceCm is where the camera stands in the grid's frame; its depth is below zero.
func (c *Camera) PlaceCm() [3]float64 { return c.c }
