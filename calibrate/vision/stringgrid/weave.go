package stringgrid

import (
	"fieldjacket/calibrate"
)

// A weave is a lattice whose strings were looked for cell by cell, so that each
// may run its own way: woven over and under, sagging, kinked.
type weave struct {
	edgeFinder
	box  box
	gate float64 // grey levels that a string's side rises, at least
}

// What a cell's side must show to count as a string's, and how many of them a
// line must have.
const (
	seenShare    = 0.4 // of its places
	leastGate    = 3.5 // grey levels that it must rise, at least,
	gateOver     = 1.3 // and times what the ground does half way between the lines,
	gatePart     = 0.8 // all but a fifth of it
	mostGate     = 9
	lineShare    = 0.4  // of a line's sides that are seen, for it to be a string
	linkShare    = 0.4  // of the crossing strings that go on to the next line
	seedSides    = 9    // of the 12 of two by two cells, from which on a weave is grown
	betweenShare = 0.25 // of the sides half way between lines that may be seen
	mostWeave    = 26   // lines each way
	partPx       = 220  // of a cell's side, from which on it is looked at in parts
	mostParts    = 3
	weaveRounds  = 4 // of fitting and growing
)

// sees tells whether a side is a string's.
func (w *weave) sees(e edge) bool {
	return e.inside && e.share >= seenShare && e.strength >= w.gate
}

// setGate looks half way between a box's lines, where no string is, for what
// the ground shows of itself.
func (w *weave) setGate(b box) {
	var all []float64
	for family := range 2 {
		for index := b.lo[family]; index < b.hi[family]; index++ {
			for part := w.parts * b.lo[1-family]; part < w.parts*b.hi[1-family]; part++ {
				if e := w.at(edgeName{lineName{family, index}, part, 0.5}); e.inside {
					all = append(all, e.strength)
				}
			}
		}
	}
	w.gate = leastGate
	if len(all) > 0 {
		w.gate = max(leastGate, min(mostGate, gateOver*nth(all, int(gatePart*float64(len(all))))))
	}
}

// A share is how many of so many.
type share struct{ seen, all int }

func (s share) of() float64 { return float64(s.seen) / max(1, float64(s.all)) }

func (w *weave) count(s *share, e edge) {
	if e.inside {
		s.all++
		if w.sees(e) {
			s.seen++
		}
	}
}

// line is how much of a line is seen between two of the other family.
func (w *weave) line(family, index, from, to int, aside float64) (s share) {
	for part := w.parts * from; part < w.parts*to; part++ {
		w.count(&s, w.at(edgeName{lineName{family, index}, part, aside}))
	}
	return s
}

// stringSeen is how much of a line is seen in the box, or with one cell more to
// both sides where that is more: near the picture's rim a string may be in it
// only there.
func (w *weave) stringSeen(family, index int) share {
	from, to := w.box.lo[1-family], w.box.hi[1-family]
	in, more := w.line(family, index, from, to, 0), w.line(family, index, from-1, to+1, 0)
	if more.of() > in.of() && more.seen > in.seen {
		return more
	}
	return in
}

// link is how many of the strings that cross a family's lines go on through
// one cell.
func (w *weave) link(family, cell int) (s share) {
	for index := w.box.lo[1-family]; index <= w.box.hi[1-family]; index++ {
		for part := w.parts * cell; part < w.parts*(cell+1); part++ {
			w.count(&s, w.at(edgeName{lineName{1 - family, index}, part, 0}))
		}
	}
	return s
}

// seed finds the two by two cells of a box with most sides seen.
func (w *weave) seed(within box) (sides int, strength float64) {
	best := 0
	for u := within.lo[0] - 1; u <= within.hi[0]-1; u++ {
		for v := within.lo[1] - 1; v <= within.hi[1]-1; v++ {
			sides, sum := 0, 0.0
			for i := range 3 {
				for k := range 2 * w.parts {
					for _, name := range []edgeName{{lineName{0, u + i}, w.parts*v + k, 0}, {lineName{1, v + i}, w.parts*u + k, 0}} {
						if e := w.at(name); w.sees(e) {
							sides, sum = sides+1, sum+e.strength
						}
					}
				}
			}
			if sides > best || sides == best && sum > strength {
				best, strength = sides, sum
				w.box = box{[2]int{u, v}, [2]int{u + 2, v + 2}}
			}
		}
	}
	return best, strength
}

// grow takes line after line to the box. A line belongs to it when enough of it
// is seen and the strings that cross it come that far: what lies beyond the
// frame, a tube, a shadow or another grid, may lie in step, but no string leads
// to it.
func (w *weave) grow() {
	for again := true; again; {
		again = false
		for family := range 2 {
			for _, side := range []int{-1, 1} {
				if step := w.next(family, side); step > 0 && w.box.lines(family)+step <= mostWeave {
					if side < 0 {
						w.box.lo[family] -= step
					} else {
						w.box.hi[family] += step
					}
					again = true
				}
			}
		}
	}
}

// next is how many lines on the box's next string is: 1, 2 past one that is
// hidden, 0 when there is none.
func (w *weave) next(family, side int) int {
	outer := w.box.hi[family]
	if side < 0 {
		outer = w.box.lo[family]
	}
	cell := func(step int) int { // between the lines step-1 and step on
		if side < 0 {
			return outer - step
		}
		return outer + step - 1
	}
	for step := 1; step <= 2; step++ {
		if l := w.link(family, cell(step)); l.all < 2 || l.of() < linkShare {
			return 0
		}
		if l := w.stringSeen(family, outer+side*step); l.seen >= 2 && l.of() >= lineShare {
			return step
		}
	}
	return 0
}

// trim drops outermost lines that are not strings after all.
func (w *weave) trim() {
	for again := true; again; {
		again = false
		for family := range 2 {
			for w.box.lines(family) > 1 && w.stringSeen(family, w.box.lo[family]).of() < lineShare {
				w.box.lo[family]++
				again = true
			}
			for w.box.lines(family) > 1 && w.stringSeen(family, w.box.hi[family]).of() < lineShare {
				w.box.hi[family]--
				again = true
			}
		}
	}
}

// fit moves the lattice's plane to the edges that were seen.
func (w *weave) fit(camera calibrate.Camera) bool {
	var marks []calibrate.Mark
	w.sides(0, func(name edgeName, e edge) {
		off := (e.from + e.to) / 2
		if at, ok := w.point(name.line, float64(name.line.index)+off, w.along(name.part, 0.5)); ok {
			marks = append(marks, markOn(name.line, at))
		}
	})
	l, ok := w.lattice.movedTo(marks, camera)
	if ok {
		w.lattice, w.edgeFinder.seen = l, map[edgeName]edge{}
	}
	return ok
}

// movedTo is the lattice with its plane fitted to marks.
func (l *lattice) movedTo(marks []calibrate.Mark, camera calibrate.Camera) (*lattice, bool) {
	h := l.plane.Homography
	p, _, err := calibrate.Fit(calibrate.Reference{Kind: calibrate.KindGrid}, camera, marks, calibrate.FitOptions{Start: &h, K1: l.plane.K1, FloorPx: 0.5, Rounds: 2, Rough: true, Uneven: true})
	if err != nil {
		return nil, false
	}
	out := &lattice{plane: p, score: l.score}
	out.level, err = p.At(0)
	return out, err == nil
}

// sides calls do with every edge in the box that was seen, of lines of which so
// much is seen.
func (w *weave) sides(least float64, do func(name edgeName, e edge)) {
	for family := range 2 {
		for index := w.box.lo[family]; index <= w.box.hi[family]; index++ {
			if w.stringSeen(family, index).of() < least {
				continue
			}
			for part := w.parts * (w.box.lo[1-family] - 1); part < w.parts*(w.box.hi[1-family]+1); part++ {
				name := edgeName{lineName{family, index}, part, 0}
				if e := w.at(name); w.sees(e) {
					do(name, e)
				}
			}
		}
	}
}

// point is a place on the lattice in the photo: across a line's family, and
// along the line.
func (e *edgeFinder) point(line lineName, across, along float64) (calibrate.Point, bool) {
	if line.family == 1 {
		across, along = along, across
	}
	return e.lattice.level.Photo(across, along)
}

// markOn is a mark on a line, in cells.
func markOn(line lineName, at calibrate.Point) calibrate.Mark {
	if line.family == 1 {
		return calibrate.Mark{At: at, Pins: calibrate.PinsV, VCm: float64(line.index)}
	}
	return calibrate.Mark{At: at, Pins: calibrate.PinsU, UCm: float64(line.index)}
}

// weaveOn grows a weave on a lattice from what is seen within a box, in the
// layer that shows most there; false: there is none.
func weaveOn(l *lattice, within box, layers []Layer, camera calibrate.Camera) (*weave, bool) {
	within = within.held(mostWeave)
	var w *weave
	parts := max(1, min(mostParts, int(l.cellPx()/partPx)))
	most, strongest := seedSides*parts-1, 0.0
	for i := range layers {
		try := &weave{edgeFinder: edgeFinder{lattice: l, layer: &layers[i], parts: parts, seen: map[edgeName]edge{}}}
		try.setGate(within)
		if sides, strength := try.seed(within); sides > most || sides == most && strength > strongest {
			w, most, strongest = try, sides, strength
		}
	}
	if w == nil {
		return nil, false
	}
	for range weaveRounds {
		w.grow()
		before := w.box
		if !w.fit(camera) {
			return nil, false
		}
		w.trim()
		if w.box.lines(0) < 3 || w.box.lines(1) < 3 {
			return nil, false
		}
		w.grow()
		if w.box == before {
			break
		}
	}
	return w, true
}

// held is the box cut to so many lines each way.
func (b box) held(most int) box {
	for k := range 2 {
		if more := b.lines(k) - most; more > 0 {
			b.lo[k] += more / 2
			b.hi[k] -= more - more/2
		}
	}
	return b
}

// weigh is how much of the weaker family's strings is seen, in strings, beyond
// what is seen half way between them, and less those that are missing; and the
// share that is seen half way.
func (w *weave) weigh() (score float64, between [2]float64, missing int) {
	var sums [2]float64
	for family := range 2 {
		from, to := w.box.lo[1-family], w.box.hi[1-family]
		var half share
		for index := w.box.lo[family]; index <= w.box.hi[family]; index++ {
			on := w.stringSeen(family, index)
			if on.of() < lineShare {
				missing++
				sums[family]--
			}
			sums[family] += on.of()
			if index < w.box.hi[family] {
				off := w.line(family, index, from, to, 0.5)
				sums[family] -= off.of()
				half.seen, half.all = half.seen+off.seen, half.all+off.all
			}
		}
		between[family] = half.of()
	}
	return min(sums[0], sums[1]), between, missing
}
