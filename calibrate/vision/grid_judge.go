package vision

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// Limits of what is taken for strings. Each guards against something else;
// they were set on rendered photos and stay apart on purpose.
const (
	minSeen        = 0.45  // share of stations that see a string
	minOverNoise   = 5     // usual answer over the noise between strings
	maxBetween     = 0.25  // share of stations half way, or a third, that see one
	minClassShare  = 0.40  // weakest over strongest residue class of line numbers
	minEvenFlanks  = 0.5   // median of the weaker over the stronger flank's contrast
	minTwoFlanks   = 0.7   // share of stations that have contrast to both flanks
	surelyString   = 0.50  // following the ground less than this, no other look is tried
	minTexture     = 0.030 // change of the ground's lightness below which following it means nothing
	maxUneven      = 1.6   // strength of every second or third line over the others'
	shadowColour   = 0.6   // largest colour part of a shadow's contrast, over its lightness part
	maxShadowSlope = 0.55  // how far a string may follow the ground's own lightness
)

// judge refuses what are not strings, or not all of them.
func (r *reading) judge() *calibrate.Refusal {
	good := 0
	for i := range r.stations {
		if r.stations[i].good {
			good++
		}
	}
	share := float64(good) / float64(len(r.stations))
	even, two := r.flanks()
	slope, texture := r.worst()
	uneven := r.uneven()
	debug("judge: good %.2f contrast %.3f %.3f %.3f weight %.2f %.2f %.2f width %.3f usual/noise %.1f between %.3f %.3f even %.2f two %.2f slope %.2f texture %.3f uneven %.2f class %.2f ", share, r.template.contrast[0], r.template.contrast[1], r.template.contrast[2],
		r.template.weight[0], r.template.weight[1], r.template.weight[2], r.template.width, r.usual/r.noise, r.between[0], r.between[1], even, two, slope, texture, uneven, r.classes())
	switch {
	case share < minSeen:
		return calibrate.Refuse(retakeGrid, "grid: strings seen at %.0f %% of the places where the grid has them, need %.0f %%", 100*share, 100*minSeen)
	case r.usual < minOverNoise*r.noise:
		return calibrate.Refuse(retakeGrid, "grid: strings stand out %.1f times the ground's own roughness, need %d", r.usual/r.noise, minOverNoise)
	case r.between[0] > maxBetween || r.between[1] > maxBetween:
		return calibrate.Refuse(retakeGrid, "grid: more strings stand between those counted (seen at %.0f %% of the places half way, %.0f %% a third of the way), so the pitch is in doubt", 100*r.between[0], 100*r.between[1])
	case r.classes() < minClassShare:
		return calibrate.Refuse(retakeGrid, "grid: every second or third string is seen at %.0f %% of the others' places, need %.0f %%, so the pitch is in doubt", 100*r.classes(), 100*minClassShare)
	case even < minEvenFlanks || two < minTwoFlanks:
		return calibrate.Refuse(retakeGrid, "grid: the lines found are edges between light and dark, not strings")
	case uneven > maxUneven:
		return calibrate.Refuse(retakeGrid, "grid: every second or third line is %.1f times as strong as the others, limit %.1f: a printed pattern, or two things in one", uneven, maxUneven)
	case texture < minTexture && r.shadowLike():
		return calibrate.Refuse("lay it on rougher ground, use strings of a bright colour, or another reference", "grid: dark lines on ground so smooth that strings cannot be told from their shadow")
	case texture >= minTexture && (slope > maxShadowSlope || slope < -maxShadowSlope):
		return calibrate.Refuse("retake it in the shade or under a cloud, or with strings of a bright colour", "grid: the lines found look like the shadow of strings, not strings")
	}
	return nil
}

// choose takes the one reading that passed. Of two that lie side by side, the
// grid and what it throws on the ground, it takes the one that hides the ground
// far better; two of different sizes are rivals.
func choose(passed []*reading) (*reading, *calibrate.Refusal) {
	if len(passed) == 0 {
		return nil, nil
	}
	slices.SortStableFunc(passed, func(a, b *reading) int { return cmp.Compare(a.hides(), b.hides()) })
	best := passed[0]
	for _, r := range passed[1:] {
		ratio := r.lattice.cellPx() / best.lattice.cellPx()
		if math.Abs(math.Log(ratio)) > 0.08 {
			return nil, calibrate.Refuse(retakeGrid, "grid: two grids fit the lines found, one with cells %.2f times the other's", ratio)
		}
		if !r.lattice.same(best.lattice) && r.hides() < best.hides()+0.15 {
			return nil, calibrate.Refuse(retakeGrid, "grid: two grids lie side by side, perhaps the strings and their shadow")
		}
	}
	return best, nil
}

// hides is how far the lines follow the ground at worst, either way.
func (r *reading) hides() float64 {
	slope, _ := r.worst()
	return math.Abs(slope)
}

// fits refuses a reading whose marks do not make a grid's plane, before
// another look is given up for it.
func (r *reading) fits(ref calibrate.Reference, camera calibrate.Camera) *calibrate.Refusal {
	_, err := calibrate.FitGrid(ref, camera, inCm(r.marks(), ref.PitchCm))
	var refusal *calibrate.Refusal
	switch {
	case err == nil:
		return nil
	case errors.As(err, &refusal):
		return refusal
	}
	return refuseFew(err.Error())
}

// classes is the hit rate of the weakest class of line numbers, modulo 2 and
// 3, over that of the strongest: with every second string of a finer grid
// missing, or a coarser grid read as a finer one, they differ.
func (r *reading) classes() float64 {
	least := 1.0
	for family := range 2 {
		for _, m := range []int{2, 3} {
			if len(r.lines[family]) < 2*m {
				continue
			}
			good, all := make([]float64, m), make([]float64, m)
			for _, l := range r.lines[family] {
				good[mod(l.index, m)] += float64(l.good)
				all[mod(l.index, m)] += float64(l.stations)
			}
			low, high := math.Inf(1), 0.0
			for k := range m {
				if all[k] > 0 {
					low, high = min(low, good[k]/all[k]), max(high, good[k]/all[k])
				}
			}
			if high > 0 {
				least = min(least, low/high)
			}
		}
	}
	return least
}

// flanks compares the contrast to the two sides: a string has both, the edge
// of a painted square one. even is the median of weaker over stronger, two the
// share of stations where that is over a quarter.
func (r *reading) flanks() (even, two float64) {
	var ratios []float64
	n := 0.0
	for i := range r.stations {
		s := &r.stations[i]
		if !s.good {
			continue
		}
		centre, left, right := s.parts(0.6 * r.template.width)
		var a, b float64
		for c, w := range r.template.weight {
			a, b = a+w*(centre[c]-left[c]), b+w*(centre[c]-right[c])
		}
		ratio := min(a, b) / max(a, b, 1e-9)
		if ratio > 0.25 {
			n++
		}
		ratios = append(ratios, ratio)
	}
	share := n / max(1, float64(len(ratios)))
	return median(ratios), share
}

// follows is how far the lightness of a family's lines follows that of the
// ground beside them, from one station to the next: 1 for a shadow, which dims
// whatever it falls on by one factor; near 0 for a string, which hides the
// ground. texture is the ground's own change from station to station (rms, of
// the logarithm); where there is next to none, follows tells nothing.
func (r *reading) follows(family int) (slope, texture float64) {
	var xy, xx, n float64
	var last *station
	var lastCentre, lastGround float64
	for i := range r.stations {
		s := &r.stations[i]
		if !s.good || s.family != family {
			last = nil
			continue
		}
		c, left, right := s.parts(0.6 * r.template.width)
		centre, ground := c[0], (left[0]+right[0])/2
		if last != nil && last.index == s.index && s.along-last.along < 0.3 {
			dx, dy := ground-lastGround, centre-lastCentre
			if math.Abs(dx) < 0.5 {
				xy, xx, n = xy+dx*dy, xx+dx*dx, n+1
			}
		}
		last, lastCentre, lastGround = s, centre, ground
	}
	return xy / max(xx, 1e-9), math.Sqrt(xx / max(1, n))
}

// worst is the family that follows the ground more, and the smoother ground.
func (r *reading) worst() (slope, texture float64) {
	a, ta := r.follows(0)
	b, tb := r.follows(1)
	if math.Abs(a) > math.Abs(b) {
		return a, min(ta, tb)
	}
	return b, min(ta, tb)
}

// shadowLike tells whether the lines are darker than the ground and of its colour.
func (r *reading) shadowLike() bool {
	c := r.template.contrast
	return c[0] < 0 && max(math.Abs(c[1]), math.Abs(c[2])) < -shadowColour*c[0]
}

// uneven is how much stronger every second or third line is than the others:
// the ratio of the strongest class of line numbers to the weakest, by the
// median of what the lines answer times how broad they are. Strings of one
// grid are alike; printed squares often are not.
func (r *reading) uneven() float64 {
	most := 1.0
	for family := range 2 {
		strength := map[int][]float64{}
		for i := range r.stations {
			if s := &r.stations[i]; s.family == family && s.good {
				strength[s.index] = append(strength[s.index], r.area(s))
			}
		}
		for _, m := range []int{2, 3} {
			if len(r.lines[family]) < 2*m {
				continue
			}
			classes := make([][]float64, m)
			for _, l := range r.lines[family] {
				if v := strength[l.index]; len(v) > 0 {
					classes[mod(l.index, m)] = append(classes[mod(l.index, m)], median(v))
				}
			}
			low, high := math.Inf(1), 0.0
			for _, v := range classes {
				if len(v) >= 2 {
					low, high = min(low, median(v)), max(high, median(v))
				}
			}
			if high > 0 {
				most = max(most, high/max(low, 1e-9))
			}
		}
	}
	return most
}

// area is the string's profile summed over twice its usual width, in the
// template's units times cells.
func (r *reading) area(s *station) (sum float64) {
	_, left, right := s.parts(0.6 * r.template.width)
	reach := max(2, 1.2*r.template.width*s.unitPx)
	mid := float64(s.half()) + s.offsetPx
	for j := range s.profile {
		if math.Abs(float64(j)-mid) > reach {
			continue
		}
		for c, w := range r.template.weight {
			sum += w * (float64(s.profile[j][c]) - (left[c]+right[c])/2)
		}
	}
	return sum / s.unitPx
}
