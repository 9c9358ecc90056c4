package calibrate

import "math"

// priorEquations gives the prior, what is known beside the marks, as equations
// weighed against marks of the standard uncertainty sigma, in px. The
// derivatives are central differences: there are three or four of these, and they are smooth.
func (f *fitting) priorEquations(s state, sigma float64) []equation {
	if f.prior == nil {
		return nil
	}
	at := f.prior(s)
	out := make([]equation, len(at))
	for i, v := range at {
		out[i].residual = v * sigma
	}
	for k := range params {
		step := 1e-6 * (1 + math.Abs(s[k]))
		hi, lo := s, s
		hi[k] += step
		lo[k] -= step
		a, b := f.prior(hi), f.prior(lo)
		for i := range out {
			out[i].jacobian[k] = (a[i] - b[i]) / (2 * step) * sigma
		}
	}
	return out
}

const (
	// uHeldDeg is how far people who try to hold a phone square to a thing are
	// off, in each direction, as a standard deviation (common practice, no
	// source).
	uHeldDeg = 20

	// uRightAngle is the standard uncertainty of the angle between a bar's
	// long edge and its blocks' short edges as printed, in radians.
	uRightAngle = 0.002

	// uSquareBlock is the relative standard uncertainty of the height of blocks
	// that are said to be square: an outline adds to it.
	uSquareBlock = 0.015
)

// leaning is the sine of the angle by which each of the plane's two directions
// points away from the camera, for a focal length of one unit.
func leaning(h homography) [2]float64 {
	return [2]float64{
		h[6] / norm([3]float64{h[0], h[3], h[6]}),
		h[7] / norm([3]float64{h[1], h[4], h[7]}),
	}
}

// barPrior is what is known of a bar beside its edges: that it is printed
// square, as far as the focal length is known; that a person held the camera
// roughly square to it; and, where that is said, that its blocks are square.
// What the edges do not tell is thereby in the covariance, and reaches every
// length by it: along the bar it costs nothing, across it and away from it
// what it must.
func barPrior(camera Camera, square bool) func(s state) []float64 {
	_, uFocal, known := camera.FocalPx()
	if !known {
		uFocal = uFocalGuess
	}
	held := math.Sin(uHeldDeg * math.Pi / 180)
	return func(s state) []float64 {
		h := homography{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}
		now, longer := shape(h, 1, 0, 0), shape(h, 1.01, 0, 0)
		lean := leaning(h)
		byFocal := (longer[0] - now[0]) / 0.01
		out := []float64{
			now[0] / math.Hypot(uRightAngle, byFocal*uFocal),
			lean[0] / held,
			lean[1] / held,
		}
		if square {
			byFocal = (longer[1] - now[1]) / 0.01
			out = append(out, now[1]/math.Hypot(uSquareBlock, byFocal*uFocal))
		}
		return out
	}
}
