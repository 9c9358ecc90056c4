package survey

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A Result is what the adjustment says.
type Result struct {
	Placements []Placement // in the order of the frames
	NotPlaced  []NotPlaced
	Checks     []Checked // one per observation, in their order
	Conflicts  []Conflict
	// SumOfSquares over Redundancy is near 1 where the stated uncertainties are right. Redundancy counts the pseudo-observations
	// of planes taken as level.
	SumOfSquares, Redundancy float64
}

// NotPlaced is a frame without a place, and why.
type NotPlaced struct{ Frame, Reason string }

// A Checked is how one observation fares: W is Baarda's test for one number (normal, 3.29 at 0.1 %), of two numbers the square root
// of theirs; SmallestBlunder is the least error in it that would be found, in its own unit, infinite where none would be.
type Checked struct {
	Text            string
	Residual        float64 // in its own unit; of two numbers their length
	W               float64
	Redundancy      float64
	SmallestBlunder float64
	LeftOut         bool
}

// Adjust places all frames of a network. An error means that the network itself is wrong: a peg or a frame that is not there.
func Adjust(n Network) (*Result, error) {
	if err := n.validate(); err != nil {
		return nil, err
	}
	n = n.levelled()
	m, params, left := n.start()
	s, err := solve(n, m, params)
	if err != nil {
		return nil, fmt.Errorf("%w: %d set-ups, %d observations", err, len(n.Frames), len(n.Observations))
	}
	final, after, conflicts := explain(n, s)
	if !after.settled {
		return nil, fmt.Errorf("%w: too much of what was measured contradicts the rest; look first at: %s", errDiverged, after.worst(final)[0].Text)
	}
	r := &Result{Conflicts: conflicts, SumOfSquares: after.sum, Redundancy: after.freedom}
	doubtful := doubts(final, after, conflicts)
	for _, f := range n.Frames {
		why, no := left[f.Name]
		if !no {
			why, no = doubtful[f.Name]
		}
		if !no {
			p := final.placement(f, after)
			if why = p.floats(); why == "" {
				r.Placements = append(r.Placements, p)
				continue
			}
		}
		r.NotPlaced = append(r.NotPlaced, NotPlaced{f.Name, why})
	}
	for i, o := range n.Observations {
		r.Checks = append(r.Checks, o.checked(after.checks[i], final.Observations[i].leftOut))
	}
	return r, nil
}

func (n Network) validate() error {
	frames, pegs := map[string]bool{}, map[string]bool{}
	for _, f := range n.Frames {
		if frames[f.Name] {
			return fmt.Errorf("two set-ups are called %q", f.Name)
		}
		frames[f.Name] = true
	}
	for _, p := range n.Pegs {
		if pegs[p.Name] {
			return fmt.Errorf("two known points are called %q", p.Name)
		}
		pegs[p.Name] = true
	}
	for _, o := range n.Observations {
		places := []Place{o.From}
		if o.Kind >= Bearing && o.Kind != Dip {
			places = append(places, o.To)
		}
		for _, p := range places {
			if p.Frame == "" && !pegs[p.Peg] {
				return fmt.Errorf("%s: there is no known point %q", o.Text, p.Peg)
			}
			if p.Frame != "" && !frames[p.Frame] {
				return fmt.Errorf("%s: there is no set-up %q", o.Text, p.Frame)
			}
		}
		if math.IsNaN(o.Value+o.At.EastM+o.At.NorthM+o.At.HeightM+o.U) || math.IsInf(o.Value, 0) {
			return fmt.Errorf("%s: not a number", o.Text)
		}
	}
	return nil
}

// levelled takes tapes along which no height is known as held level, with a centimetre more of uncertainty: a distance along a
// slope tells how far a frame lies above or below, but not which.
func (n Network) levelled() Network {
	high := map[string]bool{}
	for again := true; again; {
		again = false
		for _, o := range n.Observations {
			if o.Kind == SameHeight && n.hasHeight(o.From, high) != n.hasHeight(o.To, high) {
				high[o.From.Frame], high[o.To.Frame], again = true, true, true
			}
			if o.Kind == Height && o.From.Frame != "" && !high[o.From.Frame] {
				high[o.From.Frame], again = true, true
			}
		}
	}
	n.Observations = slices.Clone(n.Observations)
	for i, o := range n.Observations {
		if o.Kind == Distance && !(n.hasHeight(o.From, high) && n.hasHeight(o.To, high)) {
			n.Observations[i].Kind, n.Observations[i].U = LevelDistance, math.Hypot(o.u(), 0.01)
		}
	}
	return n
}

func (n Network) hasHeight(p Place, high map[string]bool) bool {
	if p.Frame != "" {
		return high[p.Frame]
	}
	return slices.ContainsFunc(n.Pegs, func(q Peg) bool { return q.Name == p.Peg && !q.NoHeight })
}

// doubts are the frames that lie elsewhere by one explanation of a conflict than by another, or whose corners must be named anew.
func doubts(final Network, best *solution, conflicts []Conflict) map[string]string {
	out := map[string]string{}
	for _, c := range conflicts {
		text := c.Suspects[0].Text
		for _, e := range c.Suspects[1:] {
			text += "; or " + e.Text
		}
		for _, e := range c.Suspects {
			if e.Frame != "" {
				out[e.Frame] = "what was measured contradicts itself, look at: " + text
			}
			m, params := e.network.startNear(best, e.touches(final))
			other, err := solve(e.network, m, params)
			for _, f := range final.Frames {
				if _, ok := best.frames[f.Name]; !ok {
					continue
				}
				if _, ok := m.frames[f.Name]; err != nil || !ok || moved(f, best, other) {
					out[f.Name] = "what was measured contradicts itself, look at: " + text
				}
			}
		}
	}
	return out
}

// moved tells whether a frame's corners lie further apart in two solutions than 3 cm and their uncertainty (k = 2).
func moved(f Frame, a, b *solution) bool {
	q := a.frames[f.Name]
	u := 2 * math.Sqrt(a.cofactor.At(q, q)+a.cofactor.At(q+1, q+1))
	for _, c := range [][2]float64{{0, 0}, {f.SizeXM, 0}, {0, f.SizeYM}} {
		place := Place{Frame: f.Name, XM: c[0], YM: c[1]}
		one, two := a.at(a.params, place), b.at(b.params, place)
		if math.Hypot(one.EastM-two.EastM, one.NorthM-two.NorthM) > max(0.03, u) {
			return true
		}
	}
	return false
}

func (o Observation) checked(c check, leftOut bool) Checked {
	out := Checked{Text: o.Text, LeftOut: leftOut, SmallestBlunder: math.Inf(1)}
	if len(c.residuals) == 0 {
		return out
	}
	out.Residual = math.Sqrt(squares(c.residuals)) * o.u()
	out.W = math.Sqrt(c.test)
	out.Redundancy = mat.Trace(c.covered) / float64(len(c.residuals))
	if least := c.leastRedundancy(); least > 1e-6 {
		out.SmallestBlunder = noncentral * o.u() / math.Sqrt(least)
	}
	return out
}
