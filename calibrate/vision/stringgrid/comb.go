package stringgrid

import (
	"cmp"
	"math"
	"slices"
)

// The cell's side that is looked for, over the camera's distance, and the
// steps between two tries.
const (
	minCell  = 0.022
	maxCell  = 0.40
	combStep = 1.006
)

// A comb is a square lattice on a turned plane: its side over the camera's
// distance and the place of its first lines.
type comb struct {
	side          float64
	along, across float64 // of a line of each family, modulo side
	strength      float64 // 0..1: how well the weaker family keeps step
}

// tooth is where one segment stands on the turned plane.
type tooth struct{ at, weight float64 }

// teeth gives the places of each family's segments across its lines: those
// that run along t.across stand at a place along t.along, and the reverse.
func (t *turn) teeth(all []ray) (families [2][]tooth) {
	for i := range all {
		r := &all[i]
		depth := r.to.dot(t.normal)
		if depth < 0.1 {
			continue
		}
		switch {
		case r.fits(t.across) > 0:
			families[0] = append(families[0], tooth{r.to.dot(t.along) / depth, r.weight})
		case r.fits(t.along) > 0:
			families[1] = append(families[1], tooth{r.to.dot(t.across) / depth, r.weight})
		}
	}
	return families
}

// beat is how well teeth keep step with a period: the length of the mean of
// exp(2 pi i at / side).
func beat(teeth []tooth, side float64) float64 {
	var c, s, w float64
	for _, t := range teeth {
		turns := t.at / side
		d := dial[int((turns-math.Floor(turns))*float64(len(dial)))%len(dial)]
		c, s, w = c+t.weight*d[0], s+t.weight*d[1], w+t.weight
	}
	if w == 0 {
		return 0
	}
	return math.Hypot(c, s) / w
}

// dial is cosine and sine of the parts of a turn.
var dial = func() (d [1024][2]float64) {
	for i := range d {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(len(d)))
		d[i] = [2]float64{cos, sin}
	}
	return d
}()

// combs looks for sides with which both families keep step. Sharing the side
// is what keeps a lattice of 1:2 cells out. The best side is given and the
// largest that is nearly as good, since a comb of half or a third of the side
// fits as well; each at the one or two places where most teeth stand.
func (t *turn) combs(all []ray) []comb {
	families := t.teeth(all)
	if len(families[0]) < 4 || len(families[1]) < 4 {
		return nil
	}
	var tried []comb
	for side := minCell; side < maxCell; side *= combStep {
		tried = append(tried, comb{side: side, strength: min(beat(families[0], side), beat(families[1], side))})
	}
	var peaks []comb
	for i, c := range tried {
		if (i == 0 || tried[i-1].strength <= c.strength) && (i == len(tried)-1 || tried[i+1].strength < c.strength) {
			peaks = append(peaks, c)
		}
	}
	slices.SortStableFunc(peaks, func(a, b comb) int {
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
		sides = append([]comb{largest}, sides...)
	}
	var out []comb
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

// phases is the one or two places within a period where most teeth stand.
func phases(teeth []tooth, side float64) []float64 {
	var bins, smooth [phaseBins]float64
	for _, t := range teeth {
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
func (c comb) start(t *turn) (h [9]float64, ok bool) {
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
