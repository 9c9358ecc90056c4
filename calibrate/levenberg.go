package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// fitting is one least-squares problem: the marks with their weights, and the
// prior on the lens term.
type fitting struct {
	camera Camera
	marks  []Mark
	weight []float64
	uK1    float64
	alike  float64                 // root of how many marks share an error, where the prior is weighed against lines
	prior  func(s state) []float64 // what is known beside the marks, each in standard uncertainties; nil: nothing
}

// normal sums the weighted normal equations and half the cost. sigma is the
// marks' standard uncertainty in px, which weighs the prior against them.
//
// Of a the upper triangle is filled.
func (f *fitting) normal(s state, sigma float64) (a square, b [params]float64, cost float64) {
	add := func(r *equation, weight float64) {
		cost += weight * r.residual * r.residual
		for i := range params {
			weighted := weight * r.jacobian[i]
			b[i] += weighted * r.residual
			for j := i; j < params; j++ {
				a[i][j] += weighted * r.jacobian[j]
			}
		}
	}
	v := f.camera.view(s)
	for i := range f.marks {
		if f.weight[i] == 0 {
			continue
		}
		eq, n, ok := v.equations(f.marks[i])
		if !ok {
			cost += 1e12 * f.weight[i]
			continue
		}
		for k := range n {
			add(&eq[k], f.weight[i])
		}
	}
	prior := equation{residual: s[8] * sigma * f.alike / f.uK1}
	prior.jacobian[8] = sigma * f.alike / f.uK1
	add(&prior, 1)
	for _, r := range f.priorEquations(s, sigma) {
		add(&r, 1)
	}
	return a, b, cost
}

// levenbergMarquardt runs Levenberg-Marquardt with Marquardt's scaling (J. SIAM 11(2),
// 1963, pp. 431-441) until a step changes the cost by less than the given part.
func (f *fitting) levenbergMarquardt(s state, sigma, until float64) state {
	a, b, cost := f.normal(s, sigma)
	damping := 1e-3
	for range 60 {
		damped := a
		for i := range params {
			damped[i][i] = a[i][i]*(1+damping) + 1e-300
		}
		step, ok := solve(&damped, &b)
		if !ok {
			return s
		}
		next := s
		for i := range params {
			next[i] -= step[i]
		}
		next[8] = max(-maxK1, min(maxK1, next[8]))
		na, nb, ncost := f.normal(next, sigma)
		if !(ncost < cost) {
			if damping *= 10; damping > 1e10 {
				return s
			}
			continue
		}
		gain := (cost - ncost) / (cost + 1e-300)
		s, a, b, cost = next, na, nb, ncost
		damping = max(damping/10, 1e-12)
		if gain < until {
			return s
		}
	}
	return s
}

// solve solves a x = b for a symmetric positive definite a, of which the upper
// triangle is given, scaled to a unit diagonal first, since the eight elements
// differ by orders of magnitude. By Cholesky's factors (Golub and Van Loan,
// Matrix Computations, 4th edition, algorithm 4.2.2); a fit takes dozens of
// these, so they are made in place. false: a pivot says that a is singular to
// the last digits.
func solve(a *square, b *[params]float64) (x [params]float64, ok bool) {
	var d [params]float64 // one over the root of the diagonal
	for i := range params {
		if !(a[i][i] > 0) || math.IsInf(a[i][i], 0) {
			return x, false
		}
		d[i] = 1 / math.Sqrt(a[i][i])
	}
	var l square // the lower factor, with one over its diagonal
	for j := range params {
		for i := j; i < params; i++ {
			sum := a[j][i] * d[i] * d[j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i > j {
				l[i][j] = sum * l[j][j]
				continue
			}
			if !(sum > leastPivot) {
				return x, false
			}
			l[j][j] = 1 / math.Sqrt(sum)
		}
	}
	for i := range params {
		sum := b[i] * d[i]
		for k := range i {
			sum -= l[i][k] * x[k]
		}
		x[i] = sum * l[i][i]
	}
	for i := params - 1; i >= 0; i-- {
		sum := x[i]
		for k := i + 1; k < params; k++ {
			sum -= l[k][i] * x[k]
		}
		x[i] = sum * l[i][i]
	}
	for i := range params {
		x[i] *= d[i]
	}
	return x, true
}

// leastPivot is the least square of a pivot of a matrix of unit diagonal that
// is more than what is lost in rounding.
const leastPivot = 1e-16

// unitDiagonal scales a, of which the upper triangle is given, to a unit
// diagonal; d is by what.
func unitDiagonal(a *square) (scaled *mat.SymDense, d [params]float64, ok bool) {
	for i := range params {
		v := a[i][i]
		if !(v > 0) || math.IsInf(v, 0) {
			return nil, d, false
		}
		d[i] = math.Sqrt(v)
	}
	scaled = mat.NewSymDense(params, nil)
	for i := range params {
		for j := i; j < params; j++ {
			scaled.SetSym(i, j, a[i][j]/d[i]/d[j])
		}
	}
	return scaled, d, true
}

// inverse is that of the normal equations A, scaled to a unit diagonal: element
// (i, j) of A^-1 is that of inverse over d[i] d[j]. false when the marks leave
// an element open.
func (f *fitting) inverse(s state, sigma float64) (inverse *mat.SymDense, d [params]float64, ok bool) {
	a, _, _ := f.normal(s, sigma)
	scaled, d, ok := unitDiagonal(&a)
	if !ok {
		return nil, d, false
	}
	var chol mat.Cholesky
	if !chol.Factorize(scaled) || chol.Cond() > 1e14 {
		return nil, d, false
	}
	inverse = new(mat.SymDense)
	return inverse, d, chol.InverseTo(inverse) == nil
}

// covariance fills the lower triangle of sigma^2 A^-1; false when the marks
// leave an element open.
func (f *fitting) covariance(s state, sigma float64, out *[params * (params + 1) / 2]float64) bool {
	inverse, d, ok := f.inverse(s, sigma)
	if !ok {
		return false
	}
	for i := range params {
		for j := range i + 1 {
			out[i*(i+1)/2+j] = sigma * sigma * inverse.At(i, j) / d[i] / d[j]
		}
	}
	return true
}

// misfits is the distance of each mark from its place, in px; NaN where the
// state puts it behind the camera.
func (f *fitting) misfits(s state) []float64 {
	out := make([]float64, len(f.marks))
	v := f.camera.view(s)
	for i, m := range f.marks {
		eq, _, ok := v.equations(m)
		out[i] = math.NaN()
		if ok {
			out[i] = math.Hypot(eq[0].residual, eq[1].residual)
		}
	}
	return out
}
