package calibrate

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// A Frame is how far a grid's frame is from square: what the photo and the
// tape tell together, weighed by their uncertainties. The plane is corrected
// for it.
type Frame struct {
	AngleDeg  Quantity `json:"angle_deg"`  // between the two families of strings, 90 when square
	SideRatio Quantity `json:"side_ratio"` // of a cell's first side over its second
	Seen      bool     `json:"seen"`       // the focal length is known, so that the photo could tell
	Taped     bool     `json:"taped"`      // both diagonals were taped
}

const (
	squareDeg    = 1.0   // half-width of a frame's angle about 90 degrees (common practice, no source)
	uFocalGuess  = 0.35  // relative standard uncertainty of a focal length that the photo does not tell
	uCentre      = 0.008 // of the principal point, in focal lengths: lenses shift to steady the picture
	uTapeCm      = 0.15  // standard uncertainty of one taped diagonal
	maxRackDeg   = 4.0   // beyond this it is not a grid's frame
	maxSideRatio = 0.02  // the same for the sides, as a logarithm
	squareSigmas = 4.0   // deviations at which a shape cannot be told from square any more
)

func (r Reference) validateDiagonals() error {
	if r.DiagonalsCm == nil {
		return nil
	}
	if len(r.DiagonalsCm) != 2 {
		return fmt.Errorf("%d diagonals of a grid: want both", len(r.DiagonalsCm))
	}
	a, b := r.DiagonalsCm[0], r.DiagonalsCm[1]
	if !(min(a, b) > 1 && max(a, b) < 1e5) || max(a, b) > 1.15*min(a, b) {
		return fmt.Errorf("grid's diagonals of %g and %g cm: want two of nearly one length", a, b)
	}
	return nil
}

// exact tells whether the reference is taken as made without error.
func (r Reference) exact() bool { return r.ToleranceCm != nil && *r.ToleranceCm == 0 }

// shape is what a homography says of the lattice's cell for a focal length of
// ratio units and a principal point off the middle by (cx, cy) units: the
// angle by which its sides are closer than 90 degrees, in radians, and the
// logarithm of the first side over the second. See poseFor.
func shape(h homography, ratio, cx, cy float64) [2]float64 {
	a := [3]float64{(h[0] - cx*h[6]) / ratio, (h[3] - cy*h[6]) / ratio, h[6]}
	b := [3]float64{(h[1] - cx*h[7]) / ratio, (h[4] - cy*h[7]) / ratio, h[7]}
	na, nb := norm(a), norm(b)
	return [2]float64{math.Asin((a[0]*b[0] + a[1]*b[1] + a[2]*b[2]) / na / nb), math.Log(na / nb)}
}

// reshape is h seen from a plane whose coordinates are true lengths, the
// cell's shape being s: the inverse of (U, V) -> (a U + b sin V, b cos V).
func reshape(h homography, s [2]float64) homography {
	a, b := math.Exp(s[1]/2), math.Exp(-s[1]/2)
	sin, cos := math.Sincos(s[0])
	inverse := homography{1 / a, -sin / cos / a, 0, 0, 1 / (b * cos), 0, 0, 0, 1}
	return h.times(inverse)
}

// square tests the shape of the grid's cell, and corrects plane and covariance
// for what the photo and the tape tell of it. With an exact reference the
// shape is only tested.
//
// The shape x = (angle, side ratio) has a prior mean m and covariance P from
// the frame's making and the tape; the homography shows y = x + J dh + D df,
// where dh is its own error and df that of focal length and principal point.
// The estimate is m + K (y - m) with K = P (P + N)^-1, N = J C J' + D S D'
// (Gauss-Markov; Rao, Linear Statistical Inference, 2nd ed. 1973, 4a.11).
func (p *Plane) square(ref Reference) error {
	h := p.h()
	_, uFocal, known := p.Camera.FocalPx()
	if !known {
		uFocal = uFocalGuess
	}
	y := shape(h, 1, 0, 0)
	j, d := p.shapeGradients()
	c := mat.NewSymDense(8, nil)
	for i := range 8 {
		for k := i; k < 8; k++ {
			c.SetSym(i, k, p.cov(i, k))
		}
	}
	s := mat.NewDiagDense(3, []float64{uFocal * uFocal, uCentre * uCentre, uCentre * uCentre})
	n := sandwich(j, c)
	n.Add(n, sandwich(d, s))
	mean, prior := p.shapePrior(ref, y, n)
	if err := p.testShape(ref, y, n, prior, known); err != nil {
		return err
	}
	if ref.exact() {
		return nil
	}
	var sum, inverse, gain mat.Dense
	sum.Add(prior, n)
	if err := inverse.Inverse(&sum); err != nil {
		return Refuse(retakeGrid, "grid: the shape of its squares is not defined")
	}
	gain.Mul(prior, &inverse)
	x := mean
	for i := range 2 {
		x[i] += gain.At(i, 0)*(y[0]-mean[0]) + gain.At(i, 1)*(y[1]-mean[1])
	}
	p.applyShape(x, j, d, c, prior, s, &gain)
	var told, rest mat.Dense
	told.Mul(&gain, prior)
	rest.Sub(prior, &told)
	ratio := math.Exp(x[1])
	p.Frame = &Frame{
		AngleDeg:  Quantity{90 - x[0]*180/math.Pi, 2 * math.Sqrt(max(0, rest.At(0, 0))) * 180 / math.Pi},
		SideRatio: Quantity{ratio, 2 * math.Sqrt(max(0, rest.At(1, 1))) * ratio},
		Seen:      known,
		Taped:     ref.DiagonalsCm != nil,
	}
	return nil
}

// shapeGradients differentiates the shape by the homography (2 x 8) and by
// focal length and principal point (2 x 3).
func (p *Plane) shapeGradients() (j, d *mat.Dense) {
	h := p.h()
	j, d = mat.NewDense(2, 8, nil), mat.NewDense(2, 3, nil)
	for k := range 8 {
		step := math.Sqrt(p.cov(k, k))/10 + 1e-12
		hi, lo := h, h
		hi[k] += step
		lo[k] -= step
		a, b := shape(hi, 1, 0, 0), shape(lo, 1, 0, 0)
		for i := range 2 {
			j.Set(i, k, (a[i]-b[i])/(2*step))
		}
	}
	const step = 1e-4
	for k, o := range [][3]float64{{step, 0, 0}, {0, step, 0}, {0, 0, step}} {
		a, b := shape(h, 1+o[0], o[1], o[2]), shape(h, 1-o[0], -o[1], -o[2])
		for i := range 2 {
			d.Set(i, k, (a[i]-b[i])/(2*step))
		}
	}
	return j, d
}

// sandwich is a b a'.
func sandwich(a mat.Matrix, b mat.Matrix) *mat.Dense {
	var half, full mat.Dense
	half.Mul(a, b)
	full.Mul(&half, a.T())
	return &full
}
