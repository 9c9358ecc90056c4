package stringgrid

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A box is the part of a lattice that is there: the first and last line of
// each family. Lines of family 0 run from lo[1] to hi[1], and the reverse.
type box struct{ lo, hi [2]int }

// lines is how many lines a family has.
func (b box) lines(family int) int { return b.hi[family] - b.lo[family] + 1 }

// minLineCells is the least length, in cells, that a line must be covered over.
const (
	minLineCells = 0.8
	minLineShare = 0.25 // of what the four best lines of its family have
)

// box finds the run of lines that are covered by segments, one gap allowed,
// each family within the extent of the other. false: fewer than three lines
// of one family.
func (l *lattice) box() (b box, ok bool) {
	inf := math.Inf(1)
	reach := [2][2]float64{{-inf, inf}, {-inf, inf}} // of each family's lines along themselves
	for range 4 {
		for family := range 2 {
			lo, hi, found := run(l.covered(family, reach[family]))
			if !found {
				return b, false
			}
			b.lo[family], b.hi[family] = lo, hi
			reach[1-family] = [2]float64{float64(lo) - 0.6, float64(hi) + 0.6}
		}
	}
	return b, b.lines(0) >= 3 && b.lines(1) >= 3
}

// covered is the length, in cells, that segments cover of each line.
func (l *lattice) covered(family int, reach [2]float64) map[int]float64 {
	out := map[int]float64{}
	for _, h := range l.hits {
		if h.family == family {
			if long := min(h.hi, reach[1]) - max(h.lo, reach[0]); long > 0 {
				out[h.index] += long
			}
		}
	}
	return out
}

// run is the strongest run of well covered lines.
func run(covered map[int]float64) (lo, hi int, ok bool) {
	var all []float64
	for _, c := range covered {
		all = append(all, c)
	}
	if len(all) < 3 {
		return 0, 0, false
	}
	slices.Sort(all)
	best := all[max(0, len(all)-4):]
	mean := 0.0
	for _, c := range best {
		mean += c / float64(len(best))
	}
	need := max(minLineCells, minLineShare*mean)
	var kept []int
	for i, c := range covered {
		if c >= need {
			kept = append(kept, i)
		}
	}
	slices.Sort(kept)
	strongest := 0.0
	for from := 0; from < len(kept); {
		to, sum := from, covered[kept[from]]
		for to+1 < len(kept) && kept[to+1]-kept[to] <= 2 {
			to++
			sum += covered[kept[to]]
		}
		if sum > strongest {
			strongest, lo, hi, ok = sum, kept[from], kept[to], true
		}
		from = to + 1
	}
	return lo, hi, ok
}

// A lineName is one line of a lattice: its family and its number.
type lineName struct{ family, index int }

// An aside is how far, in cells, something seen on a line lies beside it.
type aside struct{ along, off float64 }

// asides are those of the ends of each line's segments.
func (l *lattice) asides(f intrinsics) map[lineName][]aside {
	out := map[lineName][]aside{}
	for _, h := range l.hits {
		name := lineName{h.family, h.index}
		for _, p := range [][2]float64{h.ray.a, h.ray.b} {
			if a, ok := l.aside(name, f.px(p)); ok {
				out[name] = append(out[name], a)
			}
		}
	}
	return out
}

// aside is how far a photo point lies beside a line.
func (l *lattice) aside(name lineName, p calibrate.Point) (aside, bool) {
	u, v, err := l.level.Cm(p)
	if err != nil {
		return aside{}, false
	}
	if name.family == 1 {
		u, v = v, u
	}
	return aside{v, u - float64(name.index)}, true
}

// offAt is how far a line's string lies beside it at a place along it: the
// median of what was seen within a cell and a half, or anywhere.
func offAt(seen []aside, along float64) float64 {
	var near, all []float64
	for _, o := range seen {
		all = append(all, o.off)
		if math.Abs(o.along-along) < 1.5 {
			near = append(near, o.off)
		}
	}
	if len(near) >= 2 {
		return median(near)
	}
	return median(all)
}

// median of some numbers; it reorders them.
func median(v []float64) float64 {
	n := len(v)
	if n == 0 {
		return 0
	}
	high := nth(v, n/2)
	if n%2 == 1 {
		return high
	}
	return (slices.Max(v[:n/2]) + high) / 2
}

// nth is the element that would have place k if v were sorted; it reorders v
// so that none before that place is larger and none after it smaller (Hoare,
// Communications of the ACM 4(7), 1961, algorithm 65).
func nth[F float32 | float64](v []F, k int) F {
	for lo, hi := 0, len(v)-1; lo < hi; {
		pivot, i, j := v[lo+(hi-lo)/2], lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
