package relief

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// errSingular: the photos do not fix what is asked of them.
var errSingular = errors.New("the adjustment of the photos is not defined")

// rounds of the adjustment, and from which on marks far off count less.
const (
	adjustRounds = 8
	robustFrom   = 2
	farSigmas    = 3
)

// A normal is the normal equations of the least squares: n x = g.
type normal struct {
	n *mat.SymDense
	g []float64
}

func (s *solver) empty() *normal {
	out := &normal{mat.NewSymDense(len(s.x), nil), make([]float64, len(s.x))}
	for i, u := range s.u {
		if !math.IsInf(u, 1) {
			out.n.SetSym(i, i, 1/u/u)
			out.g[i] = (s.prior[i] - s.x[i]) / u / u
		}
	}
	return out
}

// take adds an equation.
func (o *normal) take(e *equation) {
	raw := o.n.RawSymmetric()
	for i, a := range e.at {
		o.g[a] -= e.by[i] * e.residual
		for k, b := range e.at {
			if b >= a {
				raw.Data[a*raw.Stride+b] += e.by[i] * e.by[k]
			}
		}
	}
}

// takeStrings adds all marks' equations; with weigh those far off are made to
// count less first.
func (s *solver) takeStrings(o *normal, weigh bool) {
	var e equation
	views := make([]*looking, s.photos)
	for k := range views {
		views[k] = s.looking(k)
	}
	for i := range s.marks {
		m := &s.marks[i]
		if weigh {
			m.weight = 1
			if s.stringEquation(m, views[m.photo], &e) {
				far := e.residual / math.Sqrt(m.share) / farSigmas
				m.weight = 1 / (1 + far*far)
			}
		}
		if s.stringEquation(m, views[m.photo], &e) {
			o.take(&e)
		}
	}
}

// adjust finds the state that suits the strings in all photos best, and the
// ground that is seen in several where points are given: Gauss-Newton, the
// points' own depths eliminated (Triggs, McLauchlan, Hartley and Fitzgibbon,
// Bundle Adjustment: A Modern Synthesis, LNCS 1883, 2000, section 6.1).
func (s *solver) adjust(points []point) error {
	for round := range adjustRounds {
		o := s.empty()
		s.takeStrings(o, round >= robustFrom)
		s.takePoints(o, points)
		var c mat.Cholesky
		if !c.Factorize(o.n) {
			return errSingular
		}
		var step mat.VecDense
		if err := c.SolveVecTo(&step, mat.NewVecDense(len(o.g), o.g)); err != nil {
			return errSingular
		}
		most := 0.0
		for i := range s.x {
			d := step.AtVec(i)
			if math.IsNaN(d) || math.Abs(d) > 1e6 {
				return errSingular
			}
			s.x[i] += d
			if i < sharedSize+photoSize*s.photos {
				most = max(most, math.Abs(d))
			}
		}
		if s.settle(points); round > robustFrom && most < 1e-6 {
			break
		}
	}
	return nil
}

// covariance is that of the state.
func (s *solver) covariance(points []point) (*mat.SymDense, error) {
	o := s.empty()
	s.takeStrings(o, false)
	s.takePoints(o, points)
	var c mat.Cholesky
	if !c.Factorize(o.n) {
		return nil, errSingular
	}
	var out mat.SymDense
	if err := c.InverseTo(&out); err != nil {
		return nil, errSingular
	}
	return &out, nil
}
