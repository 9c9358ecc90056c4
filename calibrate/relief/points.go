package relief

import (
	"math"

	"fieldjacket/calibrate"
)

// A point is a place of the ground that the first photo shows, and where
// others show it. The place in the first photo counts as exact.
type point struct {
	at    calibrate.Point
	seen  []sight
	below float64 // cm, as it is reckoned now
}

// A sight is where a photo shows a point.
type sight struct {
	photo int
	at    calibrate.Point
	uPx   float64 // standard uncertainty of each coordinate
}

// shift is how far a photo would show the point from where it was seen, px.
func (s *sight) shift(first, other *Camera, at calibrate.Point, below float64) (dx, dy float64, ok bool) {
	u, v, ok := first.Ground(at, below)
	if !ok {
		return 0, 0, false
	}
	p, ok := other.Photo(u, v, below)
	return p.XPx - s.at.XPx, p.YPx - s.at.YPx, ok
}

// depthStep is for differences by depth, cm.
const depthStep = 0.01

// settle finds each point's depth for the state, by three steps of Newton.
func (s *solver) settle(points []point) {
	if len(points) == 0 {
		return
	}
	cameras := s.cameras()
	for i := range points {
		points[i].settle(cameras)
	}
}

func (s *solver) cameras() []Camera {
	out := make([]Camera, s.photos)
	for k := range out {
		out[k] = CameraOf(s.view(k))
	}
	return out
}

// settle finds the depth at which the photos agree best, and its standard
// uncertainty from the matches alone; false where the point is behind one.
func (p *point) settle(cameras []Camera) (uCm float64, ok bool) {
	for range 3 {
		var nn, ng float64
		for i := range p.seen {
			m := &p.seen[i]
			x0, y0, ok1 := m.shift(&cameras[0], &cameras[m.photo], p.at, p.below)
			x1, y1, ok2 := m.shift(&cameras[0], &cameras[m.photo], p.at, p.below+depthStep)
			if !ok1 || !ok2 {
				return 0, false
			}
			dx, dy := (x1-x0)/depthStep, (y1-y0)/depthStep
			w := 1 / m.uPx / m.uPx
			nn, ng = nn+w*(dx*dx+dy*dy), ng+w*(dx*x0+dy*y0)
		}
		if !(nn > 0) {
			return 0, false
		}
		p.below -= ng / nn
		uCm = 1 / math.Sqrt(nn)
	}
	return uCm, math.Abs(p.below) < 500
}

// pointTerms gives a sight's two residuals over their uncertainty, their
// derivatives by the first photo's view and by the other's, and by depth.
type pointTerms struct {
	residual, byDepth [2]float64
	byFirst, byOther  [viewSize][2]float64
}

func (m *sight) terms(first, other *looking, at calibrate.Point, below float64) (t pointTerms, ok bool) {
	x0, y0, ok := m.shift(&first.Camera, &other.Camera, at, below)
	x1, y1, ok1 := m.shift(&first.Camera, &other.Camera, at, below+depthStep)
	if !ok || !ok1 {
		return t, false
	}
	t.residual = [2]float64{x0 / m.uPx, y0 / m.uPx}
	t.byDepth = [2]float64{(x1 - x0) / depthStep / m.uPx, (y1 - y0) / depthStep / m.uPx}
	for i := range viewSize {
		x, y, _ := m.shift(&first.near[i], &other.Camera, at, below)
		t.byFirst[i] = [2]float64{(x - x0) * first.scale[i] / m.uPx, (y - y0) * first.scale[i] / m.uPx}
		x, y, _ = m.shift(&first.Camera, &other.near[i], at, below)
		t.byOther[i] = [2]float64{(x - x0) * other.scale[i] / m.uPx, (y - y0) * other.scale[i] / m.uPx}
	}
	return t, true
}

// equations are the point's, two a sight, with what each answers to its depth.
func (p *point) equations(views []*looking) (out []equation, byDepth []float64, ok bool) {
	for i := range p.seen {
		m := &p.seen[i]
		t, ok := m.terms(views[0], views[m.photo], p.at, p.below)
		if !ok {
			return nil, nil, false
		}
		for k := range 2 {
			e := equation{residual: t.residual[k]}
			for j := range viewSize {
				e.take(views[0].at[j], t.byFirst[j][k])
				e.take(views[m.photo].at[j], t.byOther[j][k])
			}
			out, byDepth = append(out, e.merged()), append(byDepth, t.byDepth[k])
		}
	}
	return out, byDepth, true
}

// merged sums what belongs to one of the state's numbers: focal length and
// lens act in both photos.
func (e equation) merged() equation {
	out := equation{residual: e.residual}
	at := map[int]int{}
	for i, a := range e.at {
		if k, ok := at[a]; ok {
			out.by[k] += e.by[i]
			continue
		}
		at[a] = len(out.at)
		out.take(a, e.by[i])
	}
	return out
}

// takePoints adds what the points say of the photos, each point's depth
// eliminated (Schur complement): what the equations share with it is taken out.
func (s *solver) takePoints(o *normal, points []point) {
	if len(points) == 0 {
		return
	}
	views := make([]*looking, s.photos)
	for k := range views {
		views[k] = s.looking(k)
	}
	for i := range points {
		equations, byDepth, ok := points[i].equations(views)
		if !ok {
			continue
		}
		for _, e := range freed(equations, byDepth) {
			o.take(&e)
		}
	}
}

// freed takes one unknown out of equations: they are turned so that one alone
// holds it, and that one is left out.
func freed(equations []equation, by []float64) []equation {
	nn := 0.0
	for _, b := range by {
		nn += b * b
	}
	if !(nn > 0) {
		return equations
	}
	// The part of every equation along the unknown's direction is subtracted:
	// e_i - by_i sum(by_k e_k) / nn. Their sum of squares is the Schur complement.
	mean := equation{}
	at := map[int]int{}
	for i, e := range equations {
		mean.residual += by[i] * e.residual / nn
		for k, a := range e.at {
			n, ok := at[a]
			if !ok {
				n = len(mean.at)
				at[a] = n
				mean.take(a, 0)
			}
			mean.by[n] += by[i] * e.by[k] / nn
		}
	}
	out := make([]equation, len(equations))
	for i, e := range equations {
		out[i] = equation{residual: e.residual - by[i]*mean.residual}
		own := make([]float64, len(mean.at))
		for k, a := range e.at {
			own[at[a]] = e.by[k]
		}
		for k, a := range mean.at {
			out[i].take(a, own[k]-by[i]*mean.by[k])
		}
	}
	return out
}
