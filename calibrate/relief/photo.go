package relief

import (
	"math"

	"fieldjacket/calibrate"
)

// A Photo is one photo of a laid grid as its own strings scaled it.
type Photo struct {
	Plane *calibrate.Plane
	Marks []calibrate.Mark // on strings, as the plane was fitted to them
}

// poseOf takes a plane apart into the camera over it (Zhang, IEEE PAMI 22(11),
// 2000, section 3.1): the homography is s [r1 r2 t]. false: the photo does not
// tell its focal length, or the strings were read as in a mirror, so that
// their plane would be seen from below.
func poseOf(p *calibrate.Plane) (r [9]float64, c [3]float64, ok bool) {
	if _, _, known := p.Camera.FocalPx(); !known {
		return r, c, false
	}
	h := p.Homography
	a, b, t := [3]float64{h[0], h[3], h[6]}, [3]float64{h[1], h[4], h[7]}, [3]float64{h[2], h[5], h[8]}
	s := 2 / (length(a) + length(b))
	for i := range 3 {
		a[i], b[i], t[i] = a[i]*s, b[i]*s, t[i]*s
	}
	// The nearest two perpendicular unit vectors: their half sum and half
	// difference, made equally long.
	var sum, difference [3]float64
	for i := range 3 {
		sum[i], difference[i] = a[i]+b[i], a[i]-b[i]
	}
	ns, nd := length(sum), length(difference)
	for i := range 3 {
		x, y := sum[i]/ns/math.Sqrt2, difference[i]/nd/math.Sqrt2
		a[i], b[i] = x+y, x-y
	}
	n := [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	for i := range 3 {
		r[3*i], r[3*i+1], r[3*i+2] = a[i], b[i], n[i]
	}
	for i := range 3 {
		c[i] = -(r[i]*t[0] + r[3+i]*t[1] + r[6+i]*t[2])
	}
	return r, c, c[2] < 0 && !math.IsNaN(c[2])
}

func length(a [3]float64) float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }

// matrix is the turn's rotation of the grid's frame, row by row.
func (t Turn) matrix() [9]float64 {
	c, s := [4]float64{1, 0, -1, 0}[t.Quarter&3], [4]float64{0, 1, 0, -1}[t.Quarter&3]
	return [9]float64{c, -s, 0, s, c, 0, 0, 0, 1}
}

// over takes a camera over the photo's own reading to the first photo's.
func (t Turn) over(r [9]float64, c [3]float64) ([9]float64, [3]float64) {
	q := t.matrix()
	back := [9]float64{q[0], q[3], q[6], q[1], q[4], q[7], q[2], q[5], q[8]}
	u, v := t.Cm(c[0], c[1])
	return times(r, back), [3]float64{u, v, c[2]}
}

// mark takes a mark over to the first photo's reading.
func (t Turn) mark(m calibrate.Mark) calibrate.Mark {
	u, v := t.Cm(m.UCm, m.VCm)
	if t.Quarter&1 == 1 && m.Pins != calibrate.PinsBoth {
		m.Pins = calibrate.PinsU + calibrate.PinsV - m.Pins
	}
	m.UCm, m.VCm = u, v
	return m
}

// turnVector is the rotation vector of a matrix, by its quaternion.
func turnVector(r [9]float64) [3]float64 {
	q := [4]float64{
		1 + r[0] + r[4] + r[8], 1 + r[0] - r[4] - r[8],
		1 - r[0] + r[4] - r[8], 1 - r[0] - r[4] + r[8],
	}
	most := 0
	for i := range q {
		if q[i] > q[most] {
			most = i
		}
	}
	k := math.Sqrt(q[most]) / 2
	x, y, z := r[7]-r[5], r[2]-r[6], r[3]-r[1]
	xy, xz, yz := r[1]+r[3], r[2]+r[6], r[5]+r[7]
	switch most {
	case 0:
		q = [4]float64{k, x / 4 / k, y / 4 / k, z / 4 / k}
	case 1:
		q = [4]float64{x / 4 / k, k, xy / 4 / k, xz / 4 / k}
	case 2:
		q = [4]float64{y / 4 / k, xy / 4 / k, k, yz / 4 / k}
	default:
		q = [4]float64{z / 4 / k, xz / 4 / k, yz / 4 / k, k}
	}
	sin := math.Sqrt(q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	times := 2.0
	if sin > 1e-12 {
		times = 2 * math.Atan2(sin, q[0]) / sin
	}
	return [3]float64{q[1] * times, q[2] * times, q[3] * times}
}
