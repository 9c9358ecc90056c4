package stringgrid

import (
	"cmp"
	"errors"
	"math"
	"math/rand/v2"
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
	maxUneven      = 1.7   // strength of every second or third line over the others'
	shadowColour   = 0.6   // largest colour part of a shadow's contrast, over its lightness part
	minGround      = 0.45  // how far the ground must follow the ground beside it for that to tell a shadow
	maxDarkSlope   = 0.42  // the same, over what the ground itself does, where lines are dark as a shadow: more is a mixture of the two
	minColour      = 0.2   // logarithmic: the colour of a line that the ground lacks, however the light falls
	maxShadowSlope = 0.55  // how far a string may follow the ground's own lightness
)

// judge refuses what are not strings, or not all of them. counted: a person
// counted the cells; see [reading.pitchDoubt] for whether rightly.
func (r *reading) judge(counted bool) *calibrate.Refusal {
	good := 0
	for i := range r.stations {
		if r.stations[i].good {
			good++
		}
	}
	share := float64(good) / float64(len(r.stations))
	even, two := r.flanks()
	slope, texture := r.worst()
	uneven, ground := r.uneven(), r.groundFollows()
	switch {
	case share < minSeen:
		return calibrate.Refuse(retakeGrid, "grid: strings seen at %.0f %% of the places where the grid has them, need %.0f %%", 100*share, 100*minSeen)
	case r.usual < minOverNoise*r.noise:
		return calibrate.Refuse(retakeGrid, "grid: strings stand out %.1f times the ground's own roughness, need %d", r.usual/r.noise, minOverNoise)
	case !counted && r.pitchDoubt() != nil:
		return r.pitchDoubt()
	case even < minEvenFlanks || two < minTwoFlanks:
		return calibrate.Refuse(retakeGrid, "grid: the lines found are edges between light and dark, not strings")
	case !counted && uneven > maxUneven:
		return calibrate.Refuse(retakeGrid, "grid: every second or third line is %.1f times as strong as the others, limit %.1f: a printed pattern, or two things in one", uneven, maxUneven)
	case (texture < minTexture || ground < minGround) && r.shadowLike():
		return calibrate.Refuse("lay it on rougher ground, use strings of a bright colour, or another reference", "grid: dark lines on ground so smooth or so fine that strings cannot be told from their shadow")
	case texture >= minTexture && (slope > maxShadowSlope || slope < -maxShadowSlope) && !r.coloured():
		return calibrate.Refuse("retake it in the shade or under a cloud, or with strings of a bright colour", "grid: the lines found look like the shadow of strings, not strings")
	case r.shadowLike() && slope > maxDarkSlope*min(1, ground):
		return calibrate.Refuse("retake it in the shade or under a cloud, or with strings of a bright colour", "grid: dark strings and their shadow cannot be told apart")
	}
	return nil
}

// pitchDoubt is what speaks for another pitch: strings between those counted,
// or every second one missing.
func (r *reading) pitchDoubt() *calibrate.Refusal {
	switch {
	case r.between[0] > maxBetween || r.between[1] > maxBetween:
		return calibrate.Refuse(retakeGrid, "grid: more strings stand between those counted (seen at %.0f %% of the places half way, %.0f %% a third of the way), so the pitch is in doubt", 100*r.between[0], 100*r.between[1])
	case r.classes() < minClassShare:
		return calibrate.Refuse(retakeGrid, "grid: every second or third string is seen at %.0f %% of the others' places, need %.0f %%, so the pitch is in doubt", 100*r.classes(), 100*minClassShare)
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
			return nil, calibrate.Refuse(retakeGrid, "grid: two grids fit the lines found, one with squares %.2f times the other's", ratio)
		}
		if !r.lattice.same(best.lattice) && r.hides() < best.hides()+0.15 {
			return nil, calibrate.Refuse(retakeGrid, "grid: two grids lie side by side, perhaps the strings and their shadow")
		}
	}
	return best, nil
}

// rivalShare is how strong a second grid must be, beside the first, to be a rival.
const rivalShare = 0.3

// rival refuses a reading beside which the segments on none of its lines make
// a second grid of another size: nothing tells which of them is meant.
func (r *reading) rival(all []ray, p raster, f intrinsics, camera calibrate.Camera, factor float64, focalKnown bool, rng *rand.Rand) *calibrate.Refusal {
	near := lattice{plane: r.lattice.plane, level: r.lattice.level}
	near.sort(all, f, 0.12)
	taken := map[*ray]bool{}
	for _, h := range near.hits {
		taken[h.ray] = true
	}
	var rest []ray
	weight := 0.0
	for i := range all {
		if !taken[&all[i]] {
			rest, weight = append(rest, all[i]), weight+all[i].weight
		}
	}
	if weight < minLook {
		return nil
	}
	for _, l := range lattices(rest, f, camera, focalKnown, rng) {
		if l.score < rivalShare*r.lattice.score {
			break
		}
		other, why := l.read(rest, p, f, camera, factor)
		if why != nil || other.judge(false) != nil {
			continue
		}
		if ratio := other.lattice.cellPx() / r.lattice.cellPx(); math.Abs(math.Log(ratio)) > 0.08 {
			return calibrate.Refuse("take it again with one grid in the frame", "grid: there are two grids, one with squares %.2f times the other's", ratio)
		}
	}
	return nil
}

// fits refuses a reading whose marks do not make a grid's plane, before
// another look is given up for it.
func (r *reading) fits(ref calibrate.Reference, camera calibrate.Camera) *calibrate.Refusal {
	p, err := calibrate.FitGrid(ref, camera, inCm(r.marks(), ref.PitchCm))
	var refusal *calibrate.Refusal
	switch {
	case err == nil && p.Uneven: // seen in a picture so small, such may be something else
		return refuseFew("the lines found wander, or do not stand at one pitch: strings are slack, or not all of them are strings")
	case err == nil:
		return nil
	case errors.As(err, &refusal):
		return refusal
	}
	return refuseFew(err.Error()).At(calibrate.Like)
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
