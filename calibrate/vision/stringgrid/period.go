package stringgrid

import (
	"cmp"
	"math"
	"slices"
)

// The cell's side that is looked for, over the camera's distance, and the
// steps between two tries.
const (
	minCell    = 0.022
	maxCell    = 0.40
	periodStep = 1.006
)

// A hypothesis is a period that the strings may have: a square lattice on a
// turned plane, by its side over the camera's distance and the place of its
// first lines.
type hypothesis struct {
	side          float64
	along, across float64 // of a line of each family, modulo side
	strength      float64 // 0..1: phase coherence of the weaker family
}

// offset is where one segment stands across the lines of its family, on the
// turned plane.
type offset struct{ at, weight float64 }

// offsets gives those of each family's segments: those
// that run along t.across stand at a place along t.along, and the reverse.
func (t *turn) offsets(all []ray) (families [2][]offset) {
	for i := range all {
		r := &all[i]
		depth := r.to.dot(t.normal)
		if depth < 0.1 {
			continue
		}
		switch {
		case r.fits(t.across) > 0:
			families[0] = append(families[0], offset{r.to.dot(t.along) / depth, r.weight})
		case r.fits(t.along) > 0:
			families[1] = append(families[1], offset{r.to.dot(t.across) / depth, r.weight})
		}
	}
	return families
}

// phaseCoherence is how well offsets keep step with a period, 0 to 1: the length
// of the mean of exp(2 pi i at / side), 1 where all have one phase.
func phaseCoherence(offsets []offset, side float64) float64 {
	var c, s, w float64
	for _, t := range offsets {
		turns := t.at / side
		d := unitCircle[int((turns-math.Floor(turns))*float64(len(unitCircle)))%len(unitCircle)]
		c, s, w = c+t.weight*d[0], s+t.weight*d[1], w+t.weight
	}
	if w == 0 {
		return 0
	}
	return math.Hypot(c, s) / w
}

// unitCircle is cosine and sine of the parts of a full circle.
var unitCircle = func() (d [1024][2]float64) {
	for i := range d {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(len(d)))
		d[i] = [2]float64{cos, sin}
	}
	return d
}()

// hypotheses looks for sides with which both families keep step. Sharing the side
// is what keeps a lattice of 1:2 cells out. The best side is given and the
// largest that is nearly as good, since half or a third of the side fits
// as well; each at the one or two phases where most offsets stand.
func (t *turn) hypotheses(all []ray) []hypothesis {
	families := t.offsets(all)
	if len(families[0]) < 4 || len(families[1]) < 4 {
		return nil
	}
	var tried []hypothesis
	for side := minCell; side < maxCell; side *= periodStep {
		tried = append(tried, hypothesis{side: side, strength: min(phaseCoherence(families[0], side), phaseCoherence(families[1], side))})
	}
	var peaks []hypothesis
	for i, c := range tried {
		if (i == 0 || tried[i-1].strength <= c.strength) && (i == len(tried)-1 || tried[i+1].strength < c.strength) {
			peaks = append(peaks, c)
		}
	}
	slices.SortStableFunc(peaks, func(a, b hypothesis) int {
		return cmp.Compare(b.strength, a.strength)
	})
	if len(peaks) == 0 {
		return nil
	}
	sides := peaks[:1:1]
	largest := peaks[0]
	for _, p := range peaks[1:] {
		if p.strength > 0.8*peaks[0].strength && p.side > largest.side {
			largest = p
		}
	}
	if largest.side != peaks[0].side {
		sides = append([]hypothesis{largest}, sides...)
	}
	var out []hypothesis
	for _, c := range sides {
		for _, along := range phases(families[0], c.side) {
			for _, across := range phases(families[1], c.side) {
				c.along, c.across = along, across
				out = append(out, c)
			}
		}
	}
	return out
}

// Strings and their shadows stand side by side at one period. phaseBins is the
// fineness with which the places within a period are told apart, rivalPhase
// how much of the fullest place another must hold to be tried too.
const (
	phaseBins  = 48
	rivalPhase = 0.5
)

// phases is the one or two places within a period where most offsets stand, in
// units of side.
func phases(offsets []offset, side float64) []float64 {
	var bins, smooth [phaseBins]float64
	for _, t := range offsets {
		f := t.at/side - math.Floor(t.at/side)
		bins[min(int(f*phaseBins), phaseBins-1)] += t.weight
	}
	for i := range smooth {
		for o, w := range []float64{1, 2, 3, 2, 1} {
			smooth[i] += w * bins[mod(i+o-2, phaseBins)]
		}
	}
	first, second := 0, -1
	for i, v := range smooth {
		if v > smooth[first] {
			first = i
		}
	}
	for i, v := range smooth {
		apart := mod(i-first, phaseBins)
		if apart = min(apart, phaseBins-apart); apart < 4 || v < rivalPhase*smooth[first] {
			continue
		}
		if v >= smooth[mod(i-1, phaseBins)] && v > smooth[mod(i+1, phaseBins)] && (second < 0 || v > smooth[second]) {
			second = i
		}
	}
	place := func(i int) float64 { return (float64(i) + 0.5) / phaseBins * side }
	if second < 0 {
		return []float64{place(first)}
	}
	return []float64{place(first), place(second)}
}

// start is the homography from cells to the normalised picture, its last
// element 1.
func (c hypothesis) start(t *turn) (h [9]float64, ok bool) {
	for row := range 3 {
		scale := 1.0
		if row < 2 {
			scale = 1 / t.ratio
		}
		h[3*row] = c.side * t.along[row] * scale
		h[3*row+1] = c.side * t.across[row] * scale
		h[3*row+2] = (t.normal[row] + c.along*t.along[row] + c.across*t.across[row]) * scale
	}
	last := h[8]
	if math.Abs(last) < 1e-6 {
		return h, false
	}
	for i := range h {
		h[i] /= last
	}
	return h, last > 0
}
