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
	open int     // sides that may have further strings
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
