package survey

import (
	"cmp"
	"math"
	"slices"
)

// candidates are the places in plan where a frame's ties and bearings fit best, the best first: from every bearing that may be,
// and every point where two ties meet, downhill by Gauss-Newton steps.
func (n Network) candidates(f Frame, ties []tie, bearings []float64) []first {
	var found []first
	try := bearings
	if len(try) == 0 {
		for d := range 36 {
			try = append(try, float64(d)*math.Pi/18)
		}
	}
	slices.SortStableFunc(ties, func(a, b tie) int { return cmp.Compare(min(a.distanceM, 1e-9), min(b.distanceM, 1e-9)) })
	for _, bearing := range try {
		for _, at := range n.meetings(f, ties, bearing) {
			if at, ok := n.settle(f, ties, bearings, at); ok {
				known := slices.ContainsFunc(found, func(other first) bool { return n.movedM(f, at, other) < openM/10 })
				if !known {
					found = append(found, at)
				}
			}
		}
	}
	slices.SortStableFunc(found, func(a, b first) int { return cmp.Compare(a.cost, b.cost) })
	return found
}

// meetings are origins at which, turned to the bearing, the frame meets its first tie, and a second where the first is a distance.
func (n Network) meetings(f Frame, ties []tie, bearing float64) []first {
	centre := func(t tie) (east, north float64) {
		e, nn := n.turned(f.Name, bearing, t.xM, t.yM)
		return t.east - e, t.north - nn
	}
	e0, n0 := centre(ties[0])
	if ties[0].distanceM == 0 {
		return []first{{east: e0, north: n0, bearing: bearing}}
	}
	var out []first
	for _, t := range ties[1:] {
		e1, n1 := centre(t)
		apart := math.Hypot(e1-e0, n1-n0)
		if apart < 0.05 {
			continue
		}
		// Two circles; where they miss each other, the point between them.
		r0, r1 := ties[0].distanceM, t.distanceM
		along := (r0*r0 - r1*r1 + apart*apart) / (2 * apart)
		across := math.Sqrt(max(0, r0*r0-along*along))
		uE, uN := (e1-e0)/apart, (n1-n0)/apart
		for _, side := range []float64{-1, 1} {
			out = append(out, first{east: e0 + along*uE - side*across*uN, north: n0 + along*uN + side*across*uE, bearing: bearing})
		}
		break
	}
	return out
}

// settle goes downhill from a first place; not ok where it runs away.
func (n Network) settle(f Frame, ties []tie, bearings []float64, at first) (first, bool) {
	misses := func(at first) []float64 {
		var out []float64
		for _, t := range ties {
			e, nn := n.turned(f.Name, at.bearing, t.xM, t.yM)
			dE, dN := t.east-at.east-e, t.north-at.north-nn
			if t.distanceM == 0 {
				out = append(out, dE/t.u, dN/t.u)
			} else {
				out = append(out, (t.distanceM-math.Hypot(dE, dN))/t.u)
			}
		}
		for _, b := range bearings {
			out = append(out, math.Remainder(b-at.bearing, 2*math.Pi)/(DefaultUBearingDeg*math.Pi/180))
		}
		return out
	}
	shifted := func(k int, by float64) first {
		moved := at
		switch k {
		case 0:
			moved.east += by
		case 1:
			moved.north += by
		case 2:
			moved.bearing += by
		}
		return moved
	}
	damping := 1e-3
	at.cost = squares(misses(at))
	for range 40 {
		now := misses(at)
		var by [3][]float64
		for k := range by {
			more := misses(shifted(k, 1e-6))
			by[k] = make([]float64, len(now))
			for i := range now {
				by[k][i] = -(more[i] - now[i]) / 1e-6
			}
		}
		step, ok := threeByThree(by, now, damping)
		if !ok {
			return at, false
		}
		next := first{east: at.east + step[0], north: at.north + step[1], bearing: math.Remainder(at.bearing+step[2], 2*math.Pi)}
		next.cost = squares(misses(next))
		if next.cost > at.cost {
			damping *= 10
			if damping > 1e9 {
				break
			}
			continue
		}
		small := at.cost-next.cost < 1e-9*(1+at.cost)
		at, damping = next, damping/10
		if small {
			break
		}
	}
	return at, !math.IsNaN(at.cost)
}

func squares(v []float64) (sum float64) {
	for _, x := range v {
		sum += x * x
	}
	return sum
}

// threeByThree solves the damped normal equations of three unknowns by Cramer's rule.
func threeByThree(by [3][]float64, misses []float64, damping float64) (step [3]float64, ok bool) {
	var a [3][3]float64
	var b [3]float64
	for i := range 3 {
		for r, v := range misses {
			b[i] += by[i][r] * v
			for j := range 3 {
				a[i][j] += by[i][r] * by[j][r]
			}
		}
		a[i][i] += damping*a[i][i] + 1e-12
	}
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	whole := det(a)
	if whole == 0 || math.IsNaN(whole) {
		return step, false
	}
	for k := range 3 {
		with := a
		for i := range 3 {
			with[i][k] = b[i]
		}
		step[k] = det(with) / whole
	}
	return step, true
}
