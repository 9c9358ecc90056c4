package survey

import (
	"fmt"
	"math"
	"slices"
)

// A first is where a frame may lie, in plan: its origin, and its x axis' bearing in radians.
type first struct {
	east, north, bearing float64
	cost                 float64 // sum of squares over the standard uncertainties
}

// A tie holds a frame to what is placed already: a point of the frame, in its axes, to a point of the grid, or at a distance from it.
type tie struct {
	xM, yM      float64
	east, north float64
	distanceM   float64 // 0: the point itself
	u           float64
}

// start gives each frame a first place in plan, one after the other, from pegs outwards. Frames that it cannot place are left out
// of the model, with the reason.
func (n Network) start() (m model, params []float64, left map[string]string) {
	return n.startFrom(map[string]first{})
}

// startNear keeps the places of a solution but for the frames named, which are placed anew.
func (n Network) startNear(s *solution, anew []string) (m model, params []float64) {
	placed := map[string]first{}
	for name, k := range s.frames {
		if !slices.Contains(anew, name) {
			placed[name] = first{east: s.params[k], north: s.params[k+1], bearing: s.params[k+3]}
		}
	}
	m, params, _ = n.startFrom(placed)
	for name, k := range m.frames { // heights and tilts are near already
		if from, ok := s.frames[name]; ok {
			params[k+2] = s.params[from+2]
			copy(params[k+4:k+6], s.params[from+4:from+6])
		}
	}
	return m, params
}

// startFrom places the frames that are not placed yet.
func (n Network) startFrom(placed map[string]first) (m model, params []float64, left map[string]string) {
	left = map[string]string{}
	for again := true; again; {
		again = false
		for _, f := range n.Frames {
			if _, done := placed[f.Name]; done {
				continue
			}
			at, why := n.firstOf(f, placed)
			if why != "" {
				left[f.Name] = why
				continue
			}
			placed[f.Name], again = at, true
			delete(left, f.Name)
		}
	}
	var frames []Frame
	for _, f := range n.Frames {
		if _, ok := placed[f.Name]; ok {
			frames = append(frames, f)
		}
	}
	m = modelOf(frames, n.Pegs)
	params = make([]float64, m.n)
	mean, known := 0.0, 0.0
	for _, p := range n.Pegs {
		copy(params[m.pegs[p.Name]:], []float64{p.At.EastM, p.At.NorthM, p.At.HeightM})
		if !p.NoHeight {
			mean, known = mean+p.At.HeightM, known+1
		}
	}
	for _, f := range frames {
		q, at := params[m.frames[f.Name]:], placed[f.Name]
		q[0], q[1], q[2], q[3] = at.east, at.north, mean/max(known, 1), at.bearing
		q[4], q[5] = n.tilt(f.Name)
	}
	return m, params, left
}

func (n Network) tilt(frame string) (aboutEast, aboutNorth float64) {
	for _, o := range n.Observations {
		if o.Kind == Dip && o.From.Frame == frame && !o.leftOut {
			return tiltOf(o.Value, o.DirectionDeg)
		}
	}
	return 0, 0
}

// plan is where a placed point lies in plan, tilts counted.
func (n Network) plan(p Place, placed map[string]first) (east, north float64, ok bool) {
	if p.Frame == "" {
		for _, peg := range n.Pegs {
			if peg.Name == p.Peg {
				return peg.At.EastM, peg.At.NorthM, true
			}
		}
		return 0, 0, false
	}
	at, ok := placed[p.Frame]
	if !ok {
		return 0, 0, false
	}
	e, nn := n.turned(p.Frame, at.bearing, p.XM, p.YM)
	return at.east + e, at.north + nn, true
}

// turned takes a point of a frame into the grid's directions, from the frame's origin.
func (n Network) turned(frame string, bearing, x, y float64) (east, north float64) {
	sin, cos := math.Sincos(bearing)
	aboutE, aboutN := n.tilt(frame)
	east, north, _ = tilted(x*sin-y*cos, x*cos+y*sin, aboutE, aboutN)
	return east, north
}

// ties gathers what holds a frame to what is placed, and the bearings of its own x axis in radians.
func (n Network) ties(f Frame, placed map[string]first) (ties []tie, bearings []float64) {
	for _, o := range n.Observations {
		own, other := o.From, o.To
		if own.Frame != f.Name {
			own, other = other, own
		}
		if own.Frame != f.Name || o.leftOut {
			continue
		}
		switch o.Kind {
		case Coordinates:
			ties = append(ties, tie{own.XM, own.YM, o.At.EastM, o.At.NorthM, 0, o.u()})
		case Bearing:
			if o.From.Frame == o.To.Frame {
				along := math.Atan2(o.To.YM-o.From.YM, o.To.XM-o.From.XM)
				bearings = append(bearings, o.Value*math.Pi/180+along)
			}
		case Distance, LevelDistance, Same:
			east, north, ok := n.plan(other, placed)
			if other.Frame == f.Name || !ok {
				continue
			}
			d := o.Value
			if o.Kind == Same {
				d = 0
			}
			ties = append(ties, tie{own.XM, own.YM, east, north, d, o.u()})
		}
	}
	return ties, bearings
}

// firstOf is the one place in plan that a frame's ties leave, or why there is none.
func (n Network) firstOf(f Frame, placed map[string]first) (at first, why string) {
	ties, bearings := n.ties(f, placed)
	numbers := len(bearings)
	for _, t := range ties {
		numbers++
		if t.distanceM == 0 {
			numbers++
		}
	}
	switch {
	case len(ties) == 0:
		return at, "nothing ties it to a known point or to another set-up that is placed: measure two of its corners from two pegs"
	case numbers < 3:
		return at, fmt.Sprintf("only %d of the 3 numbers that a place and a direction need are measured: one more distance, corner or bearing", numbers)
	}
	found := n.candidates(f, ties, bearings)
	found = n.onTheirSides(f, found, placed)
	if len(found) == 0 {
		return at, "no place agrees with what was measured and with the side that was given"
	}
	at = found[0]
	for _, other := range found[1:] {
		if other.cost < at.cost+openChi && n.movedM(f, at, other) > openM {
			return at, fmt.Sprintf("two places fit, %.2f, %.2f m and %.2f, %.2f m: give one more distance or say on which side of the line between the pegs it lies",
				at.east, at.north, other.east, other.north)
		}
	}
	return at, ""
}

// Two first places are both open where their sums of squares differ by less than openChi (four standard uncertainties) and a
// corner lies more than openM metres from itself.
const (
	openChi = 16
	openM   = 0.1
)

// movedM is how far the frame's corners lie apart between two places, at the most.
func (n Network) movedM(f Frame, a, b first) float64 {
	far := 0.0
	for _, c := range [][2]float64{{0, 0}, {max(f.SizeXM, 1), 0}, {0, max(f.SizeYM, 1)}} {
		ae, an := n.turned(f.Name, a.bearing, c[0], c[1])
		be, bn := n.turned(f.Name, b.bearing, c[0], c[1])
		far = max(far, math.Hypot(a.east+ae-b.east-be, a.north+an-b.north-bn))
	}
	return far
}

// onTheirSides leaves out the places on the wrong hand of a line.
func (n Network) onTheirSides(f Frame, found []first, placed map[string]first) []first {
	var out []first
	for _, at := range found {
		with := map[string]first{f.Name: at}
		for name, p := range placed {
			with[name] = p
		}
		if n.sidesHold(with, f.Name) {
			out = append(out, at)
		}
	}
	return out
}

func (n Network) sidesHold(placed map[string]first, frame string) bool {
	for _, s := range n.Sides {
		if s.Of.Frame != frame {
			continue
		}
		pe, pn, ok1 := n.plan(s.Of, placed)
		ae, an, ok2 := n.plan(s.From, placed)
		be, bn, ok3 := n.plan(s.To, placed)
		if !ok1 || !ok2 || !ok3 {
			continue
		}
		if left := (be-ae)*(pn-an)-(bn-an)*(pe-ae) > 0; left != s.Left {
			return false
		}
	}
	return true
}
