package stringgrid

import (
	"cmp"
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A lattice is a grid found in the reduced picture: its plane counts cells
// (one unit is one cell), and its lines stand at whole numbers both ways.
type lattice struct {
	plane *calibrate.Plane
	level calibrate.Level
	hits  []hit
	score float64 // weight of the segments on its lines, less what chance gives
}

// A hit is a segment on one of the lattice's lines.
type hit struct {
	ray    *ray
	family int     // 0: a line U = index; 1: a line V = index
	index  int     // of the line
	lo, hi float64 // from where to where along it, in cells
	weight float64
}

// coarse fits a lattice to the segments from a first guess, sorting them to
// lines anew with a narrower tolerance each time; then a lattice all of whose
// lines have every second (third ...) number is made larger. One that comes to
// have the lines of a lattice found before is that one: no more is done.
func coarse(all []ray, f intrinsics, camera calibrate.Camera, start [9]float64, found []*lattice) (*lattice, bool) {
	l := &lattice{plane: &calibrate.Plane{Camera: camera, Homography: start}}
	l.level, _ = l.plane.At(0)
	for i, tol := range []float64{0.25, 0.15, 0.1} {
		if known := slices.IndexFunc(found, l.same); known >= 0 {
			return found[known], true
		}
		l.sort(all, f, tol)
		if _, ok := l.box(); i == 0 && !ok {
			return nil, false // not even loosely
		}
		if !l.refit(f, camera) {
			return nil, false
		}
	}
	l.sort(all, f, 0.12)
	if g, c := l.commonDivisor(); g > 1 {
		l.enlarge(g, c)
		for _, tol := range []float64{0.08, 0.06} {
			l.sort(all, f, tol)
			if !l.refit(f, camera) {
				return nil, false
			}
		}
	}
	l.sort(all, f, 0.08)
	l.weigh(all, f)
	return l, true
}

func (f intrinsics) px(p [2]float64) calibrate.Point {
	return calibrate.Point{XPx: p[0]*f.unit + f.cx, YPx: p[1]*f.unit + f.cy}
}

// maxSlant is how far a segment may turn off its line, as a tangent.
const maxSlant = 0.12

// sort finds the line of each segment, within tol cells.
func (l *lattice) sort(all []ray, f intrinsics, tol float64) {
	l.hits = l.hits[:0]
	for i := range all {
		r := &all[i]
		ua, va, err1 := l.level.Cm(f.px(r.a))
		ub, vb, err2 := l.level.Cm(f.px(r.b))
		if err1 != nil || err2 != nil {
			continue
		}
		du, dv := math.Abs(ub-ua), math.Abs(vb-va)
		h := hit{ray: r, weight: r.weight}
		var a, b float64
		switch {
		case du < maxSlant*dv:
			a, b, h.lo, h.hi = ua, ub, min(va, vb), max(va, vb)
		case dv < maxSlant*du:
			h.family = 1
			a, b, h.lo, h.hi = va, vb, min(ua, ub), max(ua, ub)
		default:
			continue
		}
		mean := (a + b) / 2
		h.index = int(math.Round(mean))
		if math.Abs(a-float64(h.index)) < tol && math.Abs(b-float64(h.index)) < tol && abs(h.index) < 400 {
			l.hits = append(l.hits, h)
		}
	}
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}

// refitHits is how many segments of each family, the heaviest, a plane is
// moved to: more tell nothing new before full size.
const refitHits = 150

// refit moves the plane to the segments' ends.
func (l *lattice) refit(f intrinsics, camera calibrate.Camera) bool {
	marks := make([]calibrate.Mark, 0, 2*len(l.hits))
	var lines [2]map[int]bool
	lines[0], lines[1] = map[int]bool{}, map[int]bool{}
	need := l.fairZ()
	var taken [2]int
	for _, h := range l.hits {
		if h.ray.z < need[h.family] || taken[h.family] == refitHits {
			continue
		}
		taken[h.family]++
		m := calibrate.Mark{UCm: float64(h.index), Pins: calibrate.PinsU}
		if h.family == 1 {
			m = calibrate.Mark{VCm: float64(h.index), Pins: calibrate.PinsV}
		}
		lines[h.family][h.index] = true
		m.At = f.px(h.ray.a)
		marks = append(marks, m)
		m.At = f.px(h.ray.b)
		marks = append(marks, m)
	}
	if len(lines[0]) < 3 || len(lines[1]) < 3 {
		return false
	}
	h := l.plane.Homography
	p, _, err := calibrate.Fit(calibrate.Reference{Kind: calibrate.KindGrid}, camera, marks, calibrate.FitOptions{Start: &h, K1: l.plane.K1, FloorPx: 0.5, Rounds: 2, Rough: true})
	if err != nil {
		return false
	}
	l.plane = p
	l.level, err = p.At(0)
	return err == nil
}

// fairZ is half the usual strength of each family's segments, by weight. What
// is weaker is often the rim of a shadow that runs along the string, and would
// pull the line over.
func (l *lattice) fairZ() (need [2]float64) {
	for family := range 2 {
		var own []hit
		sum := 0.0
		for _, h := range l.hits {
			if h.family == family {
				own = append(own, h)
				sum += h.weight
			}
		}
		slices.SortStableFunc(own, func(a, b hit) int { return cmp.Compare(a.ray.z, b.ray.z) })
		for _, h := range own {
			if sum -= 2 * h.weight; sum <= 0 {
				need[family] = h.ray.z / 2
				break
			}
		}
	}
	return need
}

// commonDivisor is the largest number, 14 to 2, by which nearly all of both
// families' lines stand apart, with the remainders; 1 if there is none.
func (l *lattice) commonDivisor() (g int, remainders [2]int) {
	for g = 14; g > 1; g-- {
		good := true
		for family := range 2 {
			sums, total := make([]float64, g), 0.0
			for _, h := range l.hits {
				if h.family == family {
					sums[mod(h.index, g)] += h.weight
					total += h.weight
				}
			}
			best := 0
			for c := range sums {
				if sums[c] > sums[best] {
					best = c
				}
			}
			remainders[family] = best
			kept := map[int]bool{}
			for _, h := range l.hits {
				if h.family == family && mod(h.index, g) == best {
					kept[h.index] = true
				}
			}
			good = good && sums[best] > 0.8*total && len(kept) >= 3
		}
		if good {
			return g, remainders
		}
	}
	return 1, remainders
}

func mod(i, g int) int { return ((i % g) + g) % g }

// enlarge makes g cells one, the lines of the remainders being whole numbers.
func (l *lattice) enlarge(g int, remainders [2]int) {
	h := l.plane.Homography
	for row := range 3 {
		a, b := h[3*row], h[3*row+1]
		h[3*row+2] += a*float64(remainders[0]) + b*float64(remainders[1])
		h[3*row], h[3*row+1] = a*float64(g), b*float64(g)
	}
	last := h[8]
	for i := range h {
		h[i] /= last
	}
	l.plane = &calibrate.Plane{Camera: l.plane.Camera, Homography: h, K1: l.plane.K1}
	l.level, _ = l.plane.At(0)
}

// weigh sets the score: the root of the product of what both families have on
// their lines, each less its share by chance.
func (l *lattice) weigh(all []ray, f intrinsics) {
	var on, near [2]float64
	for _, h := range l.hits {
		on[h.family] += h.weight
	}
	wide := lattice{plane: l.plane, level: l.level}
	wide.sort(all, f, 0.5)
	for _, h := range wide.hits {
		near[h.family] += h.weight
	}
	const chance = 2 * 0.08
	l.score = math.Sqrt(max(0, on[0]-chance*near[0]) * max(0, on[1]-chance*near[1]))
}
