package survey

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// A solution is the least-squares answer for the frames that have a first place.
type solution struct {
	model
	params   []float64
	cofactor *mat.SymDense // of the parameters: their covariance, since residuals are over their uncertainties
	sum      float64       // of squared residuals, weak rows left out
	freedom  float64       // redundancy of all rows together
	checks   []check       // one per observation of the network; unused ones have no rows
	pegs     []check
	settled  bool
}

// A check is how one observation fares.
type check struct {
	residuals []float64     // over the standard uncertainty
	covered   *mat.SymDense // cofactor of the residuals, the redundancy matrix
	test      float64       // Baarda's test, chi-squared with len(residuals) degrees of freedom
}

var errDiverged = errors.New("the adjustment did not settle")

// solve adjusts all frames in params' model by damped Gauss-Newton steps, with numeric derivatives.
func solve(n Network, m model, params []float64) (*solution, error) {
	params = append([]float64(nil), params...)
	rows := n.equations(m, params)
	sum := total(rows, params)
	for round := 0; ; round++ {
		normal, right := normalOf(rows, m, params)
		var chol mat.Cholesky
		if !chol.Factorize(normal) {
			return nil, errDiverged
		}
		var step mat.VecDense
		if err := chol.SolveVecTo(&step, right); err != nil {
			return nil, errDiverged
		}
		next, after := along(rows, params, step.RawVector().Data, sum)
		largest := mat.Norm(&step, math.Inf(1))
		switch {
		case math.IsNaN(after):
			return nil, errDiverged
		case largest < 1e-7 || sum-after < 1e-6*(1+sum) || round == steps:
			s, err := n.finish(rows, m, params, &chol)
			if err == nil {
				s.settled = round < steps
			}
			return s, err
		}
		params, sum = next, after
	}
}

// steps is how many steps are taken at most. What contradicts itself badly may not settle; it is no answer then, but its tests
// tell where to look.
const steps = 60

// along goes along a step to about where the sum of squares is least: where residuals are large the whole step overshoots.
func along(rows []equation, params, step []float64, sum float64) (best []float64, least float64) {
	best, least = params, sum
	try := func(share float64) float64 {
		next := append([]float64(nil), params...)
		for i := range next {
			next[i] += share * step[i]
		}
		after := total(rows, next)
		if after < least {
			best, least = next, after
		}
		return after
	}
	for whole := 1.0; whole > 1e-4; whole /= 4 {
		one, half := try(whole), try(whole/2)
		if bend := sum - 2*half + one; bend > 0 { // the parabola through three points
			try(whole * min(1.5, max(0.05, (3*sum-4*half+one)/(4*bend))))
		}
		if least < sum {
			break
		}
	}
	return best, least
}

func total(rows []equation, params []float64) (sum float64) {
	var scratch []float64
	for _, e := range rows {
		scratch = e.at(scratch[:0], params)
		sum += squares(scratch)
	}
	return sum
}

// An equation is one observation's rows: how they are computed and which parameters they depend on.
type equation struct {
	observation int // its index; -1 for what is added so that the equations can be solved
	peg         bool
	touched     []int
	at          func(out, params []float64) []float64
}

// equations are all that holds the model: observations, pegs, planes taken as level, and weak heights.
func (n Network) equations(m model, start []float64) []equation {
	var out []equation
	dips := map[string]bool{}
	for i, o := range n.Observations {
		if !m.knows(o) {
			continue
		}
		if o.Kind == Dip {
			dips[o.From.Frame] = true
		}
		out = append(out, equation{i, false, m.touched(o), func(out, p []float64) []float64 { return m.residuals(out, p, o) }})
	}
	for i, peg := range n.Pegs {
		first := m.pegs[peg.Name]
		out = append(out, equation{i, true, []int{first, first + 1, first + 2}, func(out, p []float64) []float64 { return m.pegRows(out, p, peg) }})
	}
	for _, f := range n.Frames {
		first, ok := m.frames[f.Name]
		if !ok {
			continue
		}
		if !dips[f.Name] {
			level := Observation{Kind: Dip, From: Place{Frame: f.Name}}
			out = append(out, equation{-1, false, m.touched(level), func(out, p []float64) []float64 { return m.residuals(out, p, level) }})
		}
		own := start[first : first+4]
		held := append([]float64(nil), own...)
		out = append(out, equation{-1, false, []int{first, first + 1, first + 2, first + 3}, func(out, p []float64) []float64 {
			q := p[first:]
			return append(out, (held[0]-q[0])/weakM, (held[1]-q[1])/weakM, (held[2]-q[2])/weakM, (held[3]-q[3])/weakRad)
		}})
	}
	return out
}

// weakRad is to a bearing what weakM is to a height.
const weakRad = 10

// jacobian is the derivative of the equation's residuals, negated: what moves the computed value up.
func (e equation) jacobian(params []float64) (residuals []float64, by [][]float64) {
	residuals = e.at(nil, params)
	by = make([][]float64, len(residuals))
	for r := range by {
		by[r] = make([]float64, len(e.touched))
	}
	const h = 1e-6
	for j, k := range e.touched {
		old := params[k]
		params[k] = old + h
		more := e.at(nil, params)
		params[k] = old - h
		less := e.at(nil, params)
		params[k] = old
		for r := range by {
			by[r][j] = -(more[r] - less[r]) / (2 * h)
		}
	}
	return residuals, by
}

func normalOf(rows []equation, m model, params []float64) (normal *mat.SymDense, right *mat.VecDense) {
	normal, right = mat.NewSymDense(m.n, nil), mat.NewVecDense(m.n, nil)
	for _, e := range rows {
		residuals, by := e.jacobian(params)
		for r, v := range residuals {
			for a, i := range e.touched {
				right.SetVec(i, right.AtVec(i)+by[r][a]*v)
				for b, j := range e.touched {
					if j >= i {
						normal.SetSym(i, j, normal.At(i, j)+by[r][a]*by[r][b])
					}
				}
			}
		}
	}
	return normal, right
}

// finish takes stock: covariance, redundancy and each observation's test.
func (n Network) finish(rows []equation, m model, params []float64, chol *mat.Cholesky) (*solution, error) {
	s := &solution{model: m, params: params, cofactor: mat.NewSymDense(m.n, nil),
		checks: make([]check, len(n.Observations)), pegs: make([]check, len(n.Pegs))}
	if err := chol.InverseTo(s.cofactor); err != nil {
		return nil, errDiverged
	}
	for _, e := range rows {
		residuals, by := e.jacobian(params)
		c := check{residuals: residuals, covered: mat.NewSymDense(len(residuals), nil)}
		for r := range residuals {
			for q := r; q < len(residuals); q++ {
				v := 0.0
				if r == q {
					v = 1
				}
				for a, i := range e.touched {
					for b, j := range e.touched {
						v -= by[r][a] * s.cofactor.At(i, j) * by[q][b]
					}
				}
				c.covered.SetSym(r, q, v)
			}
		}
		if e.observation < 0 && len(residuals) == 4 { // weak rows
			continue
		}
		for r, v := range residuals {
			s.sum += v * v
			s.freedom += c.covered.At(r, r)
		}
		c.test = c.baarda()
		switch {
		case e.peg:
			s.pegs[e.observation] = c
		case e.observation >= 0:
			s.checks[e.observation] = c
		}
	}
	return s, nil
}

// leastRedundancy is the share of an error in the observation that shows in its residual, in the direction where it shows least.
func (c check) leastRedundancy() float64 {
	if len(c.residuals) == 0 {
		return 0
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(c.covered, false) {
		return 0
	}
	return max(0, eigen.Values(nil)[0])
}

// baarda is the test of the hypothesis that this observation alone is wrong: v' Qvv^-1 v, directions without redundancy left out.
func (c check) baarda() float64 {
	var eigen mat.EigenSym
	if len(c.residuals) == 0 || !eigen.Factorize(c.covered, true) {
		return 0
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	test := 0.0
	for k, value := range eigen.Values(nil) {
		if value < 1e-6 {
			continue
		}
		along := 0.0
		for r, v := range c.residuals {
			along += v * vectors.At(r, k)
		}
		test += along * along / value
	}
	return test
}
