package survey

import "math"

// Each frame has six parameters: its origin's east, north and height in metres, the bearing of its x axis and its tilt about the
// east and the north axis, all radians; each peg has three.
const (
	perFrame = 6
	perPeg   = 3
)

// A model says where in the list of parameters each frame and peg stands.
type model struct {
	frames, pegs map[string]int
	n            int
}

func modelOf(frames []Frame, pegs []Peg) model {
	m := model{frames: map[string]int{}, pegs: map[string]int{}}
	for _, p := range pegs {
		m.pegs[p.Name] = m.n
		m.n += perPeg
	}
	for _, f := range frames {
		m.frames[f.Name] = m.n
		m.n += perFrame
	}
	return m
}

// knows tells whether an observation counts and all its places are in the model.
func (m model) knows(o Observation) bool {
	if o.leftOut {
		return false
	}
	for _, p := range []Place{o.From, o.To} {
		if p.Frame != "" {
			if _, ok := m.frames[p.Frame]; !ok {
				return false
			}
		}
		if p.Peg != "" {
			if _, ok := m.pegs[p.Peg]; !ok {
				return false
			}
		}
	}
	return true
}

// touched are the parameters that an observation depends on.
func (m model) touched(o Observation) []int {
	var out []int
	add := func(first, n int) {
		for i := range n {
			out = append(out, first+i)
		}
	}
	for i, p := range []Place{o.From, o.To} {
		if p.Frame != "" && (i == 0 || p.Frame != o.From.Frame) {
			add(m.frames[p.Frame], perFrame)
		}
		if p.Peg != "" && (i == 0 || p.Peg != o.From.Peg) {
			add(m.pegs[p.Peg], perPeg)
		}
	}
	return out
}

// at is where a place lies by the parameters.
func (m model) at(params []float64, p Place) Point {
	if p.Frame == "" {
		q := params[m.pegs[p.Peg]:]
		return Point{q[0], q[1], q[2]}
	}
	q := params[m.frames[p.Frame]:]
	sin, cos := math.Sincos(q[3])
	// The x axis points along the bearing, the y axis to its left.
	east, north, up := tilted(p.XM*sin-p.YM*cos, p.XM*cos+p.YM*sin, q[4], q[5])
	return Point{q[0] + east, q[1] + north, q[2] + up}
}

// tilted turns a level vector about the axis (aboutEast, aboutNorth, 0) by that axis' length in radians (Rodrigues' formula).
func tilted(east, north, aboutEast, aboutNorth float64) (e, n, up float64) {
	angle := math.Hypot(aboutEast, aboutNorth)
	if angle < 1e-12 {
		return east, north, aboutEast*north - aboutNorth*east
	}
	kE, kN := aboutEast/angle, aboutNorth/angle
	sin, cos := math.Sincos(angle)
	along := (kE*east + kN*north) * (1 - cos)
	return east*cos + kE*along, north*cos + kN*along, sin * (kE*north - kN*east)
}

// tiltOf is the axis by which a plane dips by dip degrees towards a bearing.
func tiltOf(dipDeg, directionDeg float64) (aboutEast, aboutNorth float64) {
	sin, cos := math.Sincos(directionDeg * math.Pi / 180)
	dip := dipDeg * math.Pi / 180
	return -dip * cos, dip * sin
}

// residuals appends what the observation misses by under the parameters, each part over its standard uncertainty.
func (m model) residuals(out []float64, params []float64, o Observation) []float64 {
	u := o.u()
	from := m.at(params, o.From)
	switch o.Kind {
	case Coordinates:
		return append(out, (o.At.EastM-from.EastM)/u, (o.At.NorthM-from.NorthM)/u)
	case Height:
		return append(out, (o.At.HeightM-from.HeightM)/u)
	case Dip:
		e, n := tiltOf(o.Value, o.DirectionDeg)
		q := params[m.frames[o.From.Frame]:]
		rad := u * math.Pi / 180
		return append(out, (e-q[4])/rad, (n-q[5])/rad)
	}
	to := m.at(params, o.To)
	dE, dN, dH := to.EastM-from.EastM, to.NorthM-from.NorthM, to.HeightM-from.HeightM
	switch o.Kind {
	case Bearing:
		return append(out, math.Remainder(o.Value-math.Atan2(dE, dN)*180/math.Pi, 360)/u)
	case Distance:
		return append(out, (o.Value-math.Sqrt(dE*dE+dN*dN+dH*dH))/u)
	case LevelDistance:
		return append(out, (o.Value-math.Hypot(dE, dN))/u)
	case Same:
		return append(out, -dE/u, -dN/u)
	}
	return append(out, (o.Value-dH)/u)
}

// pegRows are a peg's own coordinates as observations, over their standard uncertainties.
func (m model) pegRows(out []float64, params []float64, p Peg) []float64 {
	q := params[m.pegs[p.Name]:]
	uPlan, uHeight := max(p.UPlanM, LeastUM), max(p.UHeightM, LeastUM)
	if p.NoHeight {
		uHeight = weakM
	}
	return append(out, (p.At.EastM-q[0])/uPlan, (p.At.NorthM-q[1])/uPlan, (p.At.HeightM-q[2])/uHeight)
}

// weakM is the standard uncertainty, in metres, of a height that nothing is known of: it keeps the equations solvable, and a
// height that ends as uncertain as half of that is not known.
const weakM = 100
