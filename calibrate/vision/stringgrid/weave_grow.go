package stringgrid

import "fieldjacket/calibrate"

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
	w.withoutTubes()
	return w, w.box.lines(0) >= 3 && w.box.lines(1) >= 3
}

// tubeWidth is how much wider than the others an outermost line may be for a
// string: strings lead to a frame's tube, which may stand in step with them.
const tubeWidth = 1.7

// withoutTubes drops outermost lines that are too wide for strings.
func (w *weave) withoutTubes() {
	for family := range 2 {
		widths := map[int]float64{}
		var all []float64
		for index := w.box.lo[family]; index <= w.box.hi[family]; index++ {
			if widths[index] = w.width(family, index); widths[index] > 0 {
				all = append(all, widths[index])
			}
		}
		limit := tubeWidth * median(all)
		for w.box.lines(family) > 2 && widths[w.box.lo[family]] > limit {
			w.box.lo[family]++
		}
		for w.box.lines(family) > 2 && widths[w.box.hi[family]] > limit {
			w.box.hi[family]--
		}
	}
}

// width is the median width of a line's edges in px of the photo, for cells of
// the same size; 0: not known.
func (w *weave) width(family, index int) float64 {
	var all []float64
	for part := w.parts * w.box.lo[1-family]; part < w.parts*w.box.hi[1-family]; part++ {
		name := edgeName{lineName{family, index}, part, 0}
		e := w.at(name)
		if !w.sees(e) {
			continue
		}
		for half := range 2 {
			if at, width, ok := w.crest(name, e, half); ok {
				if u, v, err := w.lattice.level.Cm(at); err == nil {
					if q, err := w.lattice.level.ScalePxPerCm(u, v); err == nil {
						all = append(all, width/q.Value)
					}
				}
			}
		}
	}
	return median(all)
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
