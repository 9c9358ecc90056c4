package relief

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A cross is the test across the parallax: matches of ground that did not move
// lie where the strings say, but for the depth, which cannot move them across.
type cross struct {
	chi2     float64    // of a constant and two slopes, three degrees of freedom
	spreadMm float64    // robust standard deviation of what is left, on the ground
	offMm    [3]float64 // the constant, and the slopes over half a metre
	n        int
}

// crossTerms is a match's residual across the parallax, in mm on the ground,
// and how it answers to the state.
func crossTerms(p *point, m *sight, views []*looking) (mm float64, e equation, ok bool) {
	t, ok := m.terms(views[0], views[m.photo], p.at, p.below)
	if !ok {
		return 0, e, false
	}
	long := math.Hypot(t.byDepth[0], t.byDepth[1])
	nx, ny := -t.byDepth[1]/long, t.byDepth[0]/long
	u, v, _ := views[0].Ground(p.at, p.below)
	a, ok1 := views[m.photo].Photo(u, v, p.below)
	b, ok2 := views[m.photo].Photo(u+nx, v+ny, p.below)
	if !ok1 || !ok2 || !(long > 0) {
		return 0, e, false
	}
	scale := 10 * m.uPx / math.Hypot(a.XPx-b.XPx, a.YPx-b.YPx) // mm on the ground of one of the uncertainty
	mm = scale * (nx*t.residual[0] + ny*t.residual[1])
	for i := range viewSize {
		e.take(views[0].at[i], scale*(nx*t.byFirst[i][0]+ny*t.byFirst[i][1]))
		e.take(views[m.photo].at[i], scale*(nx*t.byOther[i][0]+ny*t.byOther[i][1]))
	}
	return mm, e.merged(), true
}

// noiseMm is what the fitted terms of a few hundred matches err by themselves.
const noiseMm = 0.05

// crossTest tests the points that a photo shows; covariance is the state's.
func (s *solver) crossTest(points []point, photo int, covariance *mat.SymDense) (c cross) {
	views := make([]*looking, s.photos)
	for k := range views {
		views[k] = s.looking(k)
	}
	cameras := s.cameras()
	lo, hi := s.boxCm()
	var mm []float64
	var at [][3]float64
	var by []equation
	for i := range points {
		p := points[i]
		for k := range p.seen {
			if p.seen[k].photo != photo {
				continue
			}
			p.seen = p.seen[k : k+1]
			if _, ok := p.settle(cameras); ok {
				if r, e, ok := crossTerms(&p, &p.seen[0], views); ok {
					u, v, _ := cameras[0].Ground(p.at, p.below)
					mm, by = append(mm, r), append(by, e)
					at = append(at, [3]float64{1, (u - (lo[0]+hi[0])/2) / 50, (v - (lo[1]+hi[1])/2) / 50})
				}
			}
			break
		}
	}
	if c.n = len(mm); c.n < 12 {
		return c
	}
	weight := make([]float64, len(mm))
	for i := range weight {
		weight[i] = 1
	}
	var terms [3]float64
	var solve *mat.Dense // the three terms by the residuals
	for range 6 {
		solve = termsOf(at, weight)
		if solve == nil {
			return c
		}
		terms = [3]float64{}
		for k := range terms {
			for i, r := range mm {
				terms[k] += solve.At(k, i) * r
			}
		}
		left := make([]float64, len(mm))
		for i, r := range mm {
			left[i] = math.Abs(r - terms[0] - terms[1]*at[i][1] - terms[2]*at[i][2])
		}
		c.spreadMm = 1.48 * medianOf(left, func(v float64) float64 { return v })
		for i, l := range left {
			far := l / max(2*c.spreadMm, 0.02)
			weight[i] = 1 / (1 + far*far)
		}
	}
	c.offMm = terms
	j := mat.NewDense(3, len(s.x), nil)
	for k := range 3 {
		for i, e := range by {
			for n, a := range e.at {
				j.Set(k, a, j.At(k, a)+solve.At(k, i)*e.by[n])
			}
		}
	}
	var left, all mat.Dense
	left.Mul(j, covariance)
	all.Mul(&left, j.T())
	for k := range 3 {
		all.Set(k, k, all.At(k, k)+noiseMm*noiseMm)
	}
	var inverse mat.Dense
	if inverse.Inverse(&all) != nil {
		return c
	}
	for i := range 3 {
		for k := range 3 {
			c.chi2 += terms[i] * inverse.At(i, k) * terms[k]
		}
	}
	return c
}

// termsOf is the matrix that takes residuals to a constant and two slopes by
// weighted least squares; nil where they are not defined.
func termsOf(at [][3]float64, weight []float64) *mat.Dense {
	n := mat.NewSymDense(3, nil)
	for i, a := range at {
		for r := range 3 {
			for k := r; k < 3; k++ {
				n.SetSym(r, k, n.At(r, k)+weight[i]*a[r]*a[k])
			}
		}
	}
	var inverse mat.Dense
	if inverse.Inverse(n) != nil {
		return nil
	}
	out := mat.NewDense(3, len(at), nil)
	for i, a := range at {
		for r := range 3 {
			sum := 0.0
			for k := range 3 {
				sum += inverse.At(r, k) * a[k]
			}
			out.Set(r, i, sum*weight[i])
		}
	}
	return out
}
