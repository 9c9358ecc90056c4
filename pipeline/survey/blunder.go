package survey

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Baarda's choices: an observation is tested at 0.1 %, and a blunder counts as one that shows where it would be found in 80 of 100
// cases. LeastRedundancy is the least share of a blunder that must show in the observation itself for its test to mean something.
const (
	significance    = 0.001
	noncentral      = 4.13 // for that significance and power, one degree of freedom (Baarda 1968)
	LeastRedundancy = 0.3
	// A second explanation is as good as the best where its sum of squares is within this: a likelihood ratio of e^7.
	asGood = 14
	rounds = 3
)

// An Explanation is one thing that, if it is so, makes what was measured agree.
type Explanation struct {
	Observation int    // index of the observation that is wrong, or -1
	Frame       string // the frame whose corners are swapped or which is mirrored, or ""
	Text        string
	sum         float64
	network     Network
}

// A Conflict is one contradiction in what was measured.
type Conflict struct {
	Suspects []Explanation // the best first, at most MostSuspects; one alone is named
	More     int           // further suspects
}

// MostSuspects is how many suspects of one conflict are listed.
const MostSuspects = 3

func critical(freedom float64) float64 {
	if freedom <= 0 {
		return 0
	}
	return distuv.ChiSquared{K: freedom}.Quantile(1 - significance)
}

// agrees tells whether nothing in the solution contradicts the rest.
func (s *solution) agrees() bool {
	if !s.settled {
		return false
	}
	if s.freedom > 0.01 && s.sum > critical(max(s.freedom, 1)) {
		return false
	}
	return !slices.ContainsFunc(append(slices.Clone(s.checks), s.pegs...), check.contradicts)
}

func (c check) contradicts() bool {
	return len(c.residuals) > 0 && c.leastRedundancy() > 1e-6 && c.test > critical(float64(len(c.residuals)))
}

// explain finds what would make the network agree, one round a blunder, and returns the network that does.
func explain(n Network, s *solution) (Network, *solution, []Conflict) {
	var conflicts []Conflict
	for range rounds {
		if s.agrees() {
			break
		}
		tried := n.explanations(s)
		var good []Explanation
		solutions := map[int]*solution{}
		for i := range tried {
			m, params := tried[i].network.startNear(s, tried[i].touches(n))
			if m.n != s.n {
				continue // without it a frame hangs in the air: nothing is explained by that
			}
			if after, err := solve(tried[i].network, m, params); err == nil && after.sum < s.sum {
				tried[i].sum = after.sum
				solutions[len(good)] = after
				good = append(good, tried[i])
			}
		}
		if len(good) == 0 {
			return n, s, append(conflicts, Conflict{Suspects: s.worst(n)})
		}
		order := make([]int, len(good))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(good[a].sum, good[b].sum) })
		c := Conflict{}
		for _, k := range order {
			if good[k].sum > good[order[0]].sum+asGood {
				break
			}
			if len(c.Suspects) < MostSuspects {
				c.Suspects = append(c.Suspects, good[k])
			} else {
				c.More++
			}
		}
		conflicts = append(conflicts, c)
		n, s = good[order[0]].network, solutions[order[0]]
	}
	if !s.agrees() && len(conflicts) > 0 {
		conflicts = append(conflicts, Conflict{Suspects: s.worst(n)})
	}
	return n, s, conflicts
}

// touches are the frames that an explanation may move.
func (e Explanation) touches(n Network) []string {
	if e.Frame != "" {
		return []string{e.Frame}
	}
	return n.Observations[e.Observation].frames()
}

// worst are the observations with the largest tests, for a contradiction that no single blunder explains.
func (s *solution) worst(n Network) (out []Explanation) {
	order := s.byTest()
	for _, i := range order[:min(len(order), MostSuspects)] {
		out = append(out, Explanation{Observation: i, Text: n.Observations[i].Text, network: n})
	}
	return out
}

// explanations are single blunders that may be behind what contradicts: an observation is wrong, two corners of a frame were
// taken for each other, or its axes run the other way round.
func (n Network) explanations(s *solution) (out []Explanation) {
	var frames []string
	for _, i := range s.byTest() {
		c := s.checks[i]
		if c.test < critical(1)/2 || len(out) == mostTried {
			break
		}
		for _, f := range n.Observations[i].frames() {
			if !slices.Contains(frames, f) && len(frames) < mostFrames {
				frames = append(frames, f)
			}
		}
		out = append(out, Explanation{Observation: i, Text: n.Observations[i].Text, network: n.without(i)})
	}
	for _, f := range frames {
		out = append(out, Explanation{Observation: -1, Frame: f, Text: f + ": its letters or numbers run the other way round",
			network: n.changed(f, func(p Place) Place { p.YM = -p.YM; return p })})
		corners := n.measuredPlaces(f)
		for i, a := range corners {
			for _, b := range corners[i+1:] {
				out = append(out, Explanation{Observation: -1, Frame: f, Text: fmt.Sprintf("%s: %v and %v are taken for each other", f, a, b),
					network: n.changed(f, swap(a, b))})
			}
		}
	}
	return out
}

// Of each contradiction so many observations and frames are tried, those with the largest tests.
const (
	mostTried  = 24
	mostFrames = 4
)

// byTest are the observations that count, the largest test first.
func (s *solution) byTest() (order []int) {
	for i, c := range s.checks {
		if len(c.residuals) > 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.checks[b].test, s.checks[a].test) })
	return order
}

func swap(a, b Place) func(Place) Place {
	return func(p Place) Place {
		switch {
		case p.XM == a.XM && p.YM == a.YM:
			p.XM, p.YM = b.XM, b.YM
		case p.XM == b.XM && p.YM == b.YM:
			p.XM, p.YM = a.XM, a.YM
		}
		return p
	}
}

// measuredPlaces are a frame's points that something outside the frame is tied to, each once, at most six.
func (n Network) measuredPlaces(frame string) (out []Place) {
	for _, o := range n.Observations {
		if o.Kind == Bearing && o.From.Frame == o.To.Frame || o.Kind == Dip || o.Kind == Height {
			continue
		}
		for _, p := range []Place{o.From, o.To} {
			same := func(q Place) bool { return q.XM == p.XM && q.YM == p.YM }
			if p.Frame == frame && len(out) < 6 && !slices.ContainsFunc(out, same) {
				out = append(out, p)
			}
		}
	}
	return out
}

// without is the network without one observation, which keeps its index.
func (n Network) without(i int) Network {
	n.Observations = slices.Clone(n.Observations)
	n.Observations[i].leftOut = true
	return n
}

// changed is the network with the points of a frame changed, but for its own bearings: those were read along an edge that stands
// in the field, whatever its letters are called.
func (n Network) changed(frame string, change func(Place) Place) Network {
	n.Observations = slices.Clone(n.Observations)
	for i, o := range n.Observations {
		if o.Kind == Bearing && o.From.Frame == o.To.Frame || o.Kind == Dip {
			continue
		}
		if o.From.Frame == frame {
			o.From = change(o.From)
		}
		if o.To.Frame == frame {
			o.To = change(o.To)
		}
		n.Observations[i] = o
	}
	return n
}
