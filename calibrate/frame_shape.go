package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// shapePrior is what is known of the cell's shape without the photo: a frame
// square within a degree and strings within their tolerance, or the angle
// that two taped diagonals give.
func (p *Plane) shapePrior(ref Reference, y [2]float64, n *mat.Dense) (mean [2]float64, prior *mat.Dense) {
	uAngle := squareDeg / math.Sqrt(3) * math.Pi / 180
	if ref.exact() {
		uAngle = 0
	}
	if ref.DiagonalsCm != nil {
		mean[0], uAngle = p.tapedAngle(ref, y[0], n.At(0, 0))
	} else if seen := math.Abs(y[0]); seen > 2*math.Hypot(uAngle, math.Sqrt(n.At(0, 0))) {
		uAngle = min(math.Hypot(uAngle, seen), maxRackDeg*math.Pi/180) // this frame was not made square within a degree
	}
	short := min(p.Corners[2][0]-p.Corners[0][0], p.Corners[2][1]-p.Corners[0][1])
	uRatio := math.Sqrt2 * ref.LineUCm() / max(short, ref.PitchCm)
	return mean, mat.NewDense(2, 2, []float64{uAngle * uAngle, 0, 0, uRatio * uRatio})
}

// tapedAngle is the angle that two diagonals give, by the parallelogram law:
// d1^2 - d2^2 = 4 a b cos, d1^2 + d2^2 = 2 (a^2 + b^2). Which diagonal is which
// in the photo is not known: the photo decides between the two signs, or the
// uncertainty covers both.
func (p *Plane) tapedAngle(ref Reference, seen, variance float64) (mean, u float64) {
	d1, d2 := ref.DiagonalsCm[0], ref.DiagonalsCm[1]
	a, b := 1.0, 1.0
	if ref.CellsAcross > 0 {
		a, b = float64(ref.CellsAcross), float64(ref.CellsDown)
	}
	sum := d1*d1 + d2*d2
	size := (a*a + b*b) / (2 * a * b)
	angle := math.Asin(clampOne((d1*d1 - d2*d2) / sum * size))
	u = 2 * math.Hypot(d1, d2) * uTapeCm / sum * size
	if math.Abs(angle) < 2*u {
		return 0, math.Hypot(u, angle)
	}
	total := variance + u*u
	plus, minus := (seen-angle)*(seen-angle)/total, (seen+angle)*(seen+angle)/total
	switch {
	case plus < minus-6:
		return angle, u
	case minus < plus-6:
		return -angle, u
	}
	return 0, math.Hypot(u, angle)
}

func clampOne(v float64) float64 { return max(-1, min(1, v)) }

// testShape refuses a cell that is not square, nor racked as a frame may be,
// for any likely focal length.
func (p *Plane) testShape(ref Reference, y [2]float64, n, prior *mat.Dense, known bool) error {
	reach := 3 * uFocalRel
	if !known {
		reach = 1.1
	}
	rack := maxRackDeg * math.Pi / 180
	if ref.exact() {
		rack = 0.01
	}
	// The uncertainty of the homography alone, not of the focal length, which is searched.
	j, _ := p.shapeGradients()
	c := mat.NewSymDense(8, nil)
	for i := range 8 {
		for k := i; k < 8; k++ {
			c.SetSym(i, k, p.cov(i, k))
		}
	}
	own := sandwich(j, c)
	angle, side := rack+squareSigmas*math.Sqrt(max(0, own.At(0, 0))), maxSideRatio+squareSigmas*math.Sqrt(max(0, own.At(1, 1)))
	worst, best := math.Inf(1), y
	for log := -reach; log <= reach+1e-9; log += reach / 60 {
		s := shape(p.h(), math.Exp(log), 0, 0)
		if m := max(math.Abs(s[0])/angle, math.Abs(s[1])/side); m < worst {
			worst, best = m, s
		}
	}
	if !(worst <= 1) {
		return Refuse("check the frame: tape both diagonals; or use another reference",
			"grid: its squares are not square: sides in the ratio %.3f at %.1f degrees", math.Exp(best[1]), 90-best[0]*180/math.Pi)
	}
	return nil
}

// applyShape turns the plane's coordinates into true lengths and carries the
// covariance along. The error of the new homography has three independent
// parts: of the fit, (I + G K J) dh, since the shape was taken from it; of the
// frame, G (K - I) dx; of focal length and principal point, G K D df. G is the
// derivative of the reshaped homography by the shape.
func (p *Plane) applyShape(x [2]float64, j, d *mat.Dense, c, prior, s mat.Matrix, gain *mat.Dense) {
	h := p.h()
	flat := func(at homography, x [2]float64) []float64 {
		r := reshape(at, x)
		out := make([]float64, 8)
		for i := range out {
			out[i] = r[i] / r[8]
		}
		return out
	}
	g, t := mat.NewDense(8, 2, nil), mat.NewDense(8, 8, nil)
	const step = 1e-6
	for k := range 2 {
		hi, lo := x, x
		hi[k] += step
		lo[k] -= step
		a, b := flat(h, hi), flat(h, lo)
		for i := range 8 {
			g.Set(i, k, (a[i]-b[i])/(2*step))
		}
	}
	for k := range 8 {
		step := math.Sqrt(p.cov(k, k))/10 + 1e-12
		hi, lo := h, h
		hi[k] += step
		lo[k] -= step
		a, b := flat(hi, x), flat(lo, x)
		for i := range 8 {
			t.Set(i, k, (a[i]-b[i])/(2*step))
		}
	}
	var gk, fit, less, rest, focal mat.Dense
	gk.Mul(g, gain)
	fit.Mul(&gk, j)
	fit.Add(&fit, t)
	less.Sub(gain, mat.NewDiagDense(2, []float64{1, 1}))
	rest.Mul(g, &less)
	focal.Mul(&gk, d)

	// K1 stays; its correlation with the homography is carried by the fit's part.
	wide := mat.NewDense(params, params, nil)
	for i := range 8 {
		for k := range 8 {
			wide.Set(i, k, fit.At(i, k))
		}
	}
	wide.Set(8, 8, 1)
	all := mat.NewSymDense(params, nil)
	for i := range params {
		for k := i; k < params; k++ {
			all.SetSym(i, k, p.cov(i, k))
		}
	}
	total := sandwich(wide, all)
	frame, lens := sandwich(&rest, prior), sandwich(&focal, s)
	for i := range params {
		for k := range i + 1 {
			v := total.At(i, k)
			if i < 8 {
				v += frame.At(i, k) + lens.At(i, k)
			}
			p.Covariance[i*(i+1)/2+k] = v
		}
	}
	copy(p.Homography[:8], flat(h, x))
	a, b := math.Exp(x[1]/2), math.Exp(-x[1]/2)
	sin, cos := math.Sincos(x[0])
	for i, q := range p.Corners {
		p.Corners[i] = [2]float64{a*q[0] + b*sin*q[1], b * cos * q[1]}
	}
}
