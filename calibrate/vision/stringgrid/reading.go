package stringgrid

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A reading is what full size showed of a lattice.
type reading struct {
	lattice  *lattice
	box      box
	template template
	stations []station
	ground   []station  // half way between the lines, where no string should be
	noise    float64    // of the line filter where no string is
	usual    float64    // answer of a string
	between  [2]float64 // share of stations that see a line half way, and a third of the way, to the next string
	halfWay  [2]float64 // the first, for each family
	lines    [2][]lineSeen
	open     int // sides that may have further strings
}

// A lineSeen is one line of the box: how many of its stations saw a string.
type lineSeen struct{ index, stations, good int }

// share of a line's stations that must see a string for the line to count.
const minLineSeen = 0.25

// maxPasses is how often a grid is measured anew, each time one line larger.
const maxPasses = 6

// read measures a lattice at full size, and again where that found the
// strings, on a plane fitted to them, until no more strings are found beside
// the outermost. Where as many strings stand half way between the lines as on
// them, both ways, the lattice is taken for every second line of the grid.
func (l *lattice) read(all []ray, p raster, f intrinsics, camera calibrate.Camera, factor float64) (*reading, *calibrate.Refusal) {
	r, why := l.measure(p, f, camera, factor)
	if why != nil || min(r.halfWay[0], r.halfWay[1]) < alsoHalfWay {
		return r, why
	}
	half := l.halved()
	half.sort(all, f, 0.08)
	return half.measure(p, f, camera, factor)
}

// alsoHalfWay is the share of places half way between lines that must see a
// string for the lattice to be halved.
const alsoHalfWay = 0.5

func (l *lattice) measure(p raster, f intrinsics, camera calibrate.Camera, factor float64) (*reading, *calibrate.Refusal) {
	b, ok := l.box()
	if !ok {
		return nil, refuseFew("the lines found do not make a grid of at least 3 strings each way")
	}
	r := &reading{lattice: l, box: b}
	seen := l.asides(f)
	centre := 1.2 * factor / l.cellPx()
	for pass := range maxPasses {
		if pass > 0 {
			r.box = b.grown()
		}
		r.stations = l.walk(p, r.box, b, seen, 0)
		if len(r.stations) < 24 {
			return nil, refuseFew("too little of the grid is in the picture")
		}
		inside := r.inside(b)
		for range 2 {
			if r.template, ok = learn(inside, centre); !ok {
				return nil, refuseFew("the lines found do not stand out from the ground")
			}
			r.template.locate(inside, 0.05)
			centre = 0.6 * r.template.width
		}
		r.template.locate(r.stations, 0.05)
		if pass == 0 {
			r.betweenLines(p, b, seen)
		}
		r.usual = accept(r.stations, r.noise)
		r.count()
		if !r.shrink() {
			return nil, refuseFew("of the lines found, fewer than 3 each way are strings at full size")
		}
		if pass > 0 && r.box == b {
			break
		}
		b = r.box
		if pass == 0 && r.hopeless() {
			return r, nil // not strings, or the lattice must be halved: judged as it is
		}
		if !r.refine(camera) {
			return nil, refuseFew("the lines found do not lie on a plane")
		}
		seen = r.asides()
	}
	return r, nil
}

// hopeless tells after the first pass that a second would change nothing: the
// lines are clearly edges or shadows, or every second of finer ones.
func (r *reading) hopeless() bool {
	_, two := r.flanks()
	slope, texture := r.worst()
	return two < 0.5 || texture > minTexture && slope > 0.9 || min(r.halfWay[0], r.halfWay[1]) >= alsoHalfWay
}

// grown is the box with two more lines all round.
func (b box) grown() box {
	for k := range 2 {
		b.lo[k] -= 2
		b.hi[k] += 2
	}
	return b
}

// inside copies the stations of a box.
func (r *reading) inside(b box) []station {
	out := make([]station, 0, len(r.stations))
	for i := range r.stations {
		if b.holds(&r.stations[i]) {
			out = append(out, r.stations[i])
		}
	}
	return out
}

func (b box) holds(s *station) bool {
	f, g := s.family, 1-s.family
	return s.index >= b.lo[f] && s.index <= b.hi[f] && s.cell >= b.lo[g] && s.cell < b.hi[g]
}

// betweenLines looks where no string should be, for the noise, and for
// strings there: then the grid's true cell is smaller.
func (r *reading) betweenLines(p raster, b box, seen map[lineName][]aside) {
	var all []station
	var parts [2][]station
	for k, shift := range []float64{0.5, 1.0 / 3} {
		parts[k] = r.lattice.walk(p, b, b, seen, shift)
		all = append(all, parts[k]...)
	}
	r.noise = r.template.quiet(all)
	r.ground = parts[0]
	for k := range parts {
		parts[k] = slices.Clone(parts[k])
		r.template.locate(parts[k], 0.04)
		var seen, all [2]float64
		for i := range parts[k] {
			s := &parts[k][i]
			all[s.family]++
			if s.inner && s.response > max(4*r.noise, 0.35) {
				seen[s.family]++
			}
		}
		r.between[k] = (seen[0] + seen[1]) / max(1, all[0]+all[1])
		if k == 0 {
			r.halfWay = [2]float64{seen[0] / max(1, all[0]), seen[1] / max(1, all[1])}
		}
	}
}

// count counts each line's stations.
func (r *reading) count() {
	for family := range 2 {
		r.lines[family] = nil
		for index := r.box.lo[family]; index <= r.box.hi[family]; index++ {
			l := lineSeen{index: index}
			for i := range r.stations {
				if s := &r.stations[i]; s.family == family && s.index == index {
					l.stations++
					if s.good {
						l.good++
					}
				}
			}
			r.lines[family] = append(r.lines[family], l)
		}
	}
}

// strings tells whether enough of a line was seen.
func (l lineSeen) isString() bool {
	return l.stations > 0 && float64(l.good) >= minLineSeen*float64(l.stations)
}

// minLinked is the share of the stations between two lines at which the strings
// that cross them must be seen.
const minLinked = 0.25

// linkedRun is the longest run of a family's lines that are linked.
func (r *reading) linkedRun(family, first, last int) (lo, hi int) {
	lo, hi = first, first
	for from, to := first, first; to < last; {
		if to++; !r.linked(family, to-1) {
			from = to
		}
		if to-from > hi-lo {
			lo, hi = from, to
		}
	}
	return lo, hi
}

// linked tells whether the strings that cross a family's lines go on through
// one cell. What lies in step beyond the frame, a shadow or a tube, no string
// leads to.
func (r *reading) linked(family, cell int) bool {
	good, all := 0, 0
	for i := range r.stations {
		if s := &r.stations[i]; s.family == 1-family && s.cell == cell {
			all++
			if s.good {
				good++
			}
		}
	}
	return all == 0 || float64(good) >= minLinked*float64(all)
}

// shrink draws the box in to the outermost strings; false if fewer than three
// are left each way.
func (r *reading) shrink() bool {
	for range 3 {
		for family := range 2 {
			first, last, n := math.MaxInt, math.MinInt, 0
			for _, l := range r.lines[family] {
				if l.isString() {
					first, last, n = min(first, l.index), max(last, l.index), n+1
				}
			}
			first, last = r.linkedRun(family, first, last)
			if n < 3 || last-first < 2 {
				return false
			}
			r.box.lo[family], r.box.hi[family] = first, last
		}
		r.stations = r.inside(r.box)
		r.count()
	}
	return true
}

const retakeGrid = "retake it squarer from above in even light, the whole grid in the frame, nothing lying on the strings; a card or bar laid on the bone also gives the scale"

// refuseFew is a refusal where no grid is to be seen.
func refuseFew(why string) *calibrate.Refusal {
	return calibrate.Refuse(retakeGrid, "grid: %s", why).At(calibrate.Unseen)
}
