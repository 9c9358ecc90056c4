package vision

import (
	"cmp"
	"math"
	"slices"
)

// minLook is the least weight of segments that a grid is looked for in, in
// px of length times strength: about 25 cell edges.
const minLook = 6000

// looks sorts segments into groups of one look, in the order in which a grid
// is looked for in them: first lines that are lighter or of another colour,
// the commonest first, since such strings throw dark shadows; then darker
// ones, split into the two sorts that differ most, the stronger first, since a
// dark string is darker than its shadow; then all dark ones.
func looks(segs []segment) [][]segment {
	var kinds [ridgeKinds][]segment
	for _, s := range segs {
		kinds[s.kind] = append(kinds[s.kind], s)
	}
	strong, weak := halves(kinds[darker])
	dark := [][]segment{strong, kinds[darker], weak}
	kinds[darker] = nil
	groups := kinds[:]
	slices.SortStableFunc(groups, func(a, b []segment) int { return cmp.Compare(total(b), total(a)) })
	groups = append(groups, dark...)
	return slices.DeleteFunc(groups, func(g []segment) bool { return total(g) < minLook })
}

func total(segs []segment) (w float64) {
	for _, s := range segs {
		w += s.weight
	}
	return w
}

// halves splits segments by their contrast into two sorts, by k-means from
// the two ends of the strongest direction, and gives the one of larger
// contrast first.
func halves(segs []segment) (strong, weak []segment) {
	if len(segs) < 24 {
		return segs, nil
	}
	var scale [logChannels]float64
	for c := range scale {
		var v []float64
		for _, s := range segs {
			v = append(v, math.Abs(s.contrast[c]))
		}
		scale[c] = max(median(v), 1e-6)
	}
	// Lightness and colour count alike, each in its own usual size.
	at := func(s *segment) (v [logChannels]float64) {
		for c := range v {
			v[c] = clip(s.contrast[c]/scale[c], 6)
		}
		return v
	}
	order := slices.Clone(segs)
	slices.SortStableFunc(order, func(a, b segment) int {
		return cmp.Compare(a.contrast[0], b.contrast[0])
	})
	centres := [2][logChannels]float64{at(&order[len(order)/5]), at(&order[len(order)*4/5])}
	member := make([]int, len(segs))
	for range 12 {
		var sums [2][logChannels]float64
		var weights [2]float64
		for i := range segs {
			v := at(&segs[i])
			var d [2]float64
			for k := range 2 {
				for c := range v {
					d[k] += (v[c] - centres[k][c]) * (v[c] - centres[k][c])
				}
			}
			member[i] = 0
			if d[1] < d[0] {
				member[i] = 1
			}
			weights[member[i]] += segs[i].weight
			for c := range v {
				sums[member[i]][c] += segs[i].weight * v[c]
			}
		}
		for k := range 2 {
			for c := range logChannels {
				if weights[k] > 0 {
					centres[k][c] = sums[k][c] / weights[k]
				}
			}
		}
	}
	for i, s := range segs {
		if member[i] == 0 {
			strong = append(strong, s)
		} else {
			weak = append(weak, s)
		}
	}
	return strong, weak
}
