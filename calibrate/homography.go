package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A homography is a 3 x 3 matrix, row by row. Each variable of this type says
// which frame it takes to which.
type homography [9]float64

// apply takes (x, y) through h; false where the point lies on or behind the
// horizon of h (its third coordinate is not positive).
func (h homography) apply(x, y float64) (float64, float64, bool) {
	w := h[6]*x + h[7]*y + h[8]
	if !(w > 1e-12) {
		return 0, 0, false
	}
	return (h[0]*x + h[1]*y + h[2]) / w, (h[3]*x + h[4]*y + h[5]) / w, true
}

// inverse is the adjugate scaled to the determinant; false for a singular h.
func (h homography) inverse() (homography, bool) {
	a := homography{
		h[4]*h[8] - h[5]*h[7], h[2]*h[7] - h[1]*h[8], h[1]*h[5] - h[2]*h[4],
		h[5]*h[6] - h[3]*h[8], h[0]*h[8] - h[2]*h[6], h[2]*h[3] - h[0]*h[5],
		h[3]*h[7] - h[4]*h[6], h[1]*h[6] - h[0]*h[7], h[0]*h[4] - h[1]*h[3],
	}
	det := h[0]*a[0] + h[1]*a[3] + h[2]*a[6]
	if math.Abs(det) < 1e-300 || math.IsNaN(det) {
		return a, false
	}
	for i := range a {
		a[i] /= det
	}
	return a, true
}

// times is the product h g: g is applied first.
func (h homography) times(g homography) (out homography) {
	for r := range 3 {
		for c := range 3 {
			for k := range 3 {
				out[3*r+c] += h[3*r+k] * g[3*k+c]
			}
		}
	}
	return out
}

// pair is one point in the frame a homography starts from and its place in
// the frame it leads to.
type pair struct{ x, y, u, v float64 }

// direct solves for the homography (x, y) -> (u, v) by the normalised direct
// linear transformation (Hartley and Zisserman, Multiple View Geometry, 2nd
// ed. 2003, algorithm 4.2, p. 109), with its last element 1. It wants four
// pairs at least, no three of the four on a line.
func direct(pairs []pair) (homography, bool) {
	if len(pairs) < 4 {
		return homography{}, false
	}
	from, ok1 := balance(pairs, func(p pair) (float64, float64) { return p.x, p.y })
	to, ok2 := balance(pairs, func(p pair) (float64, float64) { return p.u, p.v })
	if !ok1 || !ok2 {
		return homography{}, false
	}
	a := mat.NewDense(max(2*len(pairs), 9), 9, nil)
	for i, p := range pairs {
		x, y, _ := from.apply(p.x, p.y)
		u, v, _ := to.apply(p.u, p.v)
		a.SetRow(2*i, []float64{-x, -y, -1, 0, 0, 0, u * x, u * y, u})
		a.SetRow(2*i+1, []float64{0, 0, 0, -x, -y, -1, v * x, v * y, v})
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThinV) {
		return homography{}, false
	}
	values := svd.Values(nil)
	if values[7] < 1e-9*values[0] {
		return homography{}, false // a second null vector: the points lie on a line
	}
	var v mat.Dense
	svd.VTo(&v)
	var h homography
	for i := range h {
		h[i] = v.At(i, 8)
	}
	back, _ := to.inverse()
	h = back.times(h).times(from)
	if math.Abs(h[8]) < 1e-12 {
		return homography{}, false
	}
	for i, s := 0, h[8]; i < 9; i++ {
		h[i] /= s
	}
	return h, true
}

// balance moves points to their centre and scales their mean distance to the
// square root of two.
func balance(pairs []pair, at func(pair) (float64, float64)) (homography, bool) {
	var mx, my, d float64
	n := float64(len(pairs))
	for _, p := range pairs {
		x, y := at(p)
		mx, my = mx+x/n, my+y/n
	}
	for _, p := range pairs {
		x, y := at(p)
		d += math.Hypot(x-mx, y-my) / n
	}
	if !(d > 0) || math.IsInf(d, 0) {
		return homography{}, false
	}
	s := math.Sqrt2 / d
	return homography{s, 0, -s * mx, 0, s, -s * my, 0, 0, 1}, true
}
