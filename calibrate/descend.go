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
	belief func(s state) []float64 // what is known beside the marks, each in standard uncertainties; nil: nothing
}

// row is one equation: what the marks miss by, in px, and its derivatives by
// the eight elements and K1.
type row struct {
	miss    float64
	by      [params]float64
	pxPerCm float64 // across the line, for a mark on one
}

// rows gives a mark's equations for a state: two for a corner (along x and y),
// one for a mark on a line (across the line). false: the mark is behind the
// camera or outside the lens.
func (f *fitting) rows(s state, m Mark) (out [2]row, n int, ok bool) {
	unit := f.camera.unit()
	u, v := m.UCm, m.VCm
	if m.Pins != PinsBoth {
		level := Level{plane: &Plane{Camera: f.camera}}
		if u, v, ok = level.cm(s, m.At); !ok {
			return out, 0, false
		}
	}
	w := s[6]*u + s[7]*v + 1
	if !(w > 1e-9) {
		return out, 0, false
	}
	x, y := (s[0]*u+s[1]*v+s[2])/w, (s[3]*u+s[4]*v+s[5])/w
	r2, k1 := x*x+y*y, s[8]
	// The bent place's derivatives by the straight place.
	xx, xy, yy := 1+k1*(r2+2*x*x), 2*k1*x*y, 1+k1*(r2+2*y*y)
	// The straight place's derivatives by the eight elements.
	dx := [params]float64{u / w, v / w, 1 / w, 0, 0, 0, -x * u / w, -x * v / w, 0}
	dy := [params]float64{0, 0, 0, u / w, v / w, 1 / w, -y * u / w, -y * v / w, 0}
	var bx, by [params]float64
	for i := range params {
		bx[i] = unit * (xx*dx[i] + xy*dy[i])
		by[i] = unit * (xy*dx[i] + yy*dy[i])
	}
	bx[8], by[8] = unit*x*r2, unit*y*r2
	if m.Pins == PinsBoth {
		xd, yd := bend(x, y, k1)
		at := f.camera.photo(xd, yd)
		return [2]row{{miss: at.XPx - m.At.XPx, by: bx}, {miss: at.YPx - m.At.YPx, by: by}}, 2, true
	}
	// Derivatives of the bent place by (u, v), then their inverse: how the
	// plane's coordinates of a fixed photo point answer to the state.
	au, av := (s[0]-s[6]*x)/w, (s[1]-s[7]*x)/w
	cu, cv := (s[3]-s[6]*y)/w, (s[4]-s[7]*y)/w
	jxu, jxv := unit*(xx*au+xy*cu), unit*(xx*av+xy*cv)
	jyu, jyv := unit*(xy*au+yy*cu), unit*(xy*av+yy*cv)
	det := jxu*jyv - jxv*jyu
	if math.Abs(det) < 1e-12 {
		return out, 0, false
	}
	gx, gy, off := jyv/det, -jxv/det, u-m.UCm // of u by the photo's x and y
	if m.Pins == PinsV {
		gx, gy, off = -jyu/det, jxu/det, v-m.VCm
	}
	px := 1 / math.Hypot(gx, gy) // px across the line per cm
	r := row{miss: off * px, pxPerCm: px}
	for i := range params {
		r.by[i] = -(gx*bx[i] + gy*by[i]) * px
	}
	return [2]row{r}, 1, true
}

// normal sums the weighted normal equations and half the cost. sigma is the
// marks' standard uncertainty in px, which weighs the prior against them.
func (f *fitting) normal(s state, sigma float64) (a *mat.SymDense, b *mat.VecDense, cost float64) {
	var left [params][params]float64
	var right [params]float64
	add := func(r *row, weight float64) {
		cost += weight * r.miss * r.miss
		for i := range params {
			by := weight * r.by[i]
			right[i] += by * r.miss
			for j := i; j < params; j++ {
				left[i][j] += by * r.by[j]
			}
		}
	}
	for i := range f.marks {
		if f.weight[i] == 0 {
			continue
		}
		rows, n, ok := f.rows(s, f.marks[i])
		if !ok {
			cost += 1e12 * f.weight[i]
			continue
		}
		for k := range n {
			add(&rows[k], f.weight[i])
		}
	}
	prior := row{miss: s[8] * sigma / f.uK1}
	prior.by[8] = sigma / f.uK1
	add(&prior, 1)
	for _, r := range f.believed(s, sigma) {
		add(&r, 1)
	}
	a, b = mat.NewSymDense(params, nil), mat.NewVecDense(params, right[:])
	for i := range params {
		for j := i; j < params; j++ {
			a.SetSym(i, j, left[i][j])
		}
	}
	return a, b, cost
}

// descend runs Levenberg-Marquardt with Marquardt's scaling (J. SIAM 11(2),
// 1963, pp. 431-441) until a step changes the cost by less than the given part.
func (f *fitting) descend(s state, sigma, until float64) state {
	a, b, cost := f.normal(s, sigma)
	damping := 1e-3
	for range 60 {
		damped := mat.NewSymDense(params, nil)
		damped.CopySym(a)
		for i := range params {
			damped.SetSym(i, i, a.At(i, i)*(1+damping)+1e-300)
		}
		step, ok := solve(damped, b)
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

// solve solves a x = b for a symmetric positive definite a, scaled to a unit
// diagonal first, since the eight elements differ by orders of magnitude.
func solve(a *mat.SymDense, b *mat.VecDense) (x [params]float64, ok bool) {
	scaled, d, ok := unitDiagonal(a)
	if !ok {
		return x, false
	}
	var chol mat.Cholesky
	if !chol.Factorize(scaled) {
		return x, false
	}
	rhs := mat.NewVecDense(params, nil)
	for i := range params {
		rhs.SetVec(i, b.AtVec(i)/d[i])
	}
	var out mat.VecDense
	if err := chol.SolveVecTo(&out, rhs); err != nil {
		return x, false
	}
	for i := range params {
		x[i] = out.AtVec(i) / d[i]
	}
	return x, true
}

func unitDiagonal(a *mat.SymDense) (*mat.SymDense, [params]float64, bool) {
	var d [params]float64
	for i := range params {
		v := a.At(i, i)
		if !(v > 0) || math.IsInf(v, 0) {
			return nil, d, false
		}
		d[i] = math.Sqrt(v)
	}
	scaled := mat.NewSymDense(params, nil)
	for i := range params {
		for j := i; j < params; j++ {
			scaled.SetSym(i, j, a.At(i, j)/d[i]/d[j])
		}
	}
	return scaled, d, true
}

// inverse is that of the normal equations A, scaled to a unit diagonal: element
// (i, j) of A^-1 is that of inverse over d[i] d[j]. false when the marks leave
// an element open.
func (f *fitting) inverse(s state, sigma float64) (inverse *mat.SymDense, d [params]float64, ok bool) {
	a, _, _ := f.normal(s, sigma)
	scaled, d, ok := unitDiagonal(a)
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
	for i, m := range f.marks {
		rows, _, ok := f.rows(s, m)
		out[i] = math.NaN()
		if ok {
			out[i] = math.Hypot(rows[0].miss, rows[1].miss)
		}
	}
	return out
}
