package stringgrid

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// smoothFloor is how little the ground's lightness may change, see
// [reading.worst], for light lines to be the joints of a floor where none ends
// in the picture.
const smoothFloor = 0.04

// ends draws a reading in to what are surely strings.
func (r *reading) ends(full raster, camera calibrate.Camera) *calibrate.Refusal {
	o, ok := newOutline(full, r.lattice, r.box, r.marks(), tidyInside)
	if !ok {
		return nil
	}
	r.open = o.trimmed()
	if o.box == r.box {
		return nil
	}
	if !o.whole() {
		return refuseFew("of the lines found, fewer than 3 each way stand out on both sides as strings do")
	}
	r.box = o.box
	r.stations = r.inside(r.box)
	r.count()
	if !r.refine(camera) {
		return refuseFew("the lines found do not lie on a plane")
	}
	return nil
}

// floor refuses lines that may be the joints of a floor: none of them ends in
// the picture, and the ground is smooth.
func (r *reading) floor() *calibrate.Refusal {
	if _, texture := r.worst(); r.open < 4 || texture >= smoothFloor {
		return nil
	}
	return calibrate.Refuse("show where the strings end, or lay another reference", "grid: lines on smooth ground that leave the picture on all sides: strings cannot be told from the joints of a floor")
}

// ends draws a weave in to what are surely strings; false: too few are left.
func (w *weave) ends(full raster, camera calibrate.Camera) bool {
	o, ok := newOutline(full, w.lattice, w.box, w.marks(), stringInside)
	if !ok {
		return false
	}
	open := o.trimmed()
	if !o.whole() {
		return false
	}
	changed := w.box != o.box
	w.box, w.open = o.box, open
	return !changed || w.fit(camera)
}

// What an outermost line must look like to be a string: by how much it stands
// out on its inner and its outer side; or how near its place, in cells, where it
// does not stand out on the outer one.
const (
	stringPlace   = 0.035
	tidyInside    = 0.15 // in the first look, which saw the strings' own colour
	stringInside  = 0.4
	stringOutside = 0.15
)

// standsOut is by how much a line on a box's rim stands out on its inner and
// its outer side, -1 or 1 being where the outside is.
func (o *outline) standsOut(name lineName, side float64) (inside, outside float64) {
	in := o.across(name, []float64{-0.30 * side, -0.25 * side, -0.20 * side, -0.15 * side, -0.10 * side, -0.07 * side})
	out := o.across(name, []float64{0.05 * side, 0.07 * side, 0.10 * side, 0.13 * side, 0.16 * side, 0.19 * side})
	if in == nil {
		return 0, 0
	}
	if outside = 1; out != nil {
		outside = -slices.Min(out)
	}
	return -median(in), outside
}

// off is how far beside its place a line was seen, in cells.
func (o *outline) off(name lineName) float64 {
	var all []float64
	for _, m := range o.marks[name] {
		if u, v, err := o.level.Cm(m.At); err == nil {
			all = append(all, [2]float64{u, v}[name.family]-float64(name.index))
		}
	}
	return median(all)
}

// A frameWide is how wide a tube or board is at least, in cells, and frameTone
// by how much it stands out of the ground.
const (
	frameWide  = 0.14
	frameTone  = 0.35
	frameShare = 0.8 // of the places along a line where it must be seen
	frameSteps = 40  // places across a cell that are looked at
)

// framed is how far beyond a line, on one side, the first tube or board lies
// that runs along all of it, in cells, within so many: where the strip is
// lighter than the ground beside it. ok: there is one.
func (o *outline) framed(family, line, side int, within float64, ground []float64) (at float64, ok bool) {
	run := 0
	for k := range int(within * frameSteps) {
		t := (float64(k) + 0.5) / frameSteps
		high, all := 0, 0
		for i, usual := range ground {
			for _, of := range []float64{0.3, 0.5, 0.7} {
				if tone, ok := o.toneAt(family, float64(line)+float64(side)*t, float64(o.box.lo[1-family]+i)+of); ok {
					if all++; tone > usual+frameTone {
						high++
					}
				}
			}
		}
		if all == 0 || float64(high) < frameShare*float64(all) {
			run = 0
			continue
		}
		if run++; float64(run) >= frameWide*frameSteps {
			return t - float64(run)/frameSteps, true
		}
	}
	return 0, false
}

// trimmed draws the box in to outermost lines that look like strings; open is
// how many sides show a further line that may be one.
func (o *outline) trimmed() (open int) {
	for o.least == stringInside && o.cut() && o.whole() { // in dappled shade the ground may look like a frame: there only the first look finds strings
	}
	var doubted [2][2]bool
	for family := range 2 {
		for side, end := range []*int{&o.box.lo[family], &o.box.hi[family]} {
			outwards := 2*side - 1
			for o.whole() {
				inside, outside := o.standsOut(lineName{family, *end}, float64(outwards))
				// A string beside a tube of its own colour looks like the tube's rim,
				// but hardly ever does a rim lie where a string would.
				inPlace := math.Abs(o.off(lineName{family, *end})) < stringPlace
				if inside >= o.least && (outside >= stringOutside || inPlace) || o.least == tidyInside && inPlace {
					break
				}
				doubted[family][side] = inside >= o.least
				*end -= outwards
			}
		}
	}
	if !o.whole() {
		return 0
	}
	for family := range 2 {
		for side, outer := range [2]int{o.box.lo[family], o.box.hi[family]} {
			if doubted[family][side] || o.open(family, outer, 2*side-1) {
				open++
			}
		}
	}
	return open
}

func (o *outline) whole() bool { return o.box.lines(0) >= 3 && o.box.lines(1) >= 3 }

// How far strings must be seen to go on beyond the outermost line that crosses
// them, in cells, for one more to be expected there, and how many of them.
const (
	goOnFrom  = 0.80
	goOnTo    = 1.05
	goOnShare = 0.4
	goOnRise  = 0.35
)

// open tells whether a further string may cross the others beyond the outermost
// line on one side: they go on to its place, or the picture ends before it.
func (o *outline) open(family, outer, side int) bool {
	ground := o.ground(family)
	if at, ok := o.framed(family, outer, side, 1, ground); ok && at < goOnFrom {
		return false // the frame lies nearer than a further string would
	}
	most := 0
	for _, least := range []float64{goOnRise, 2 * goOnRise} {
		more := 0 // strings that go on than what does half way between them
		for line := o.box.lo[1-family]; line <= o.box.hi[1-family]; line++ {
			if o.goesOn(lineName{1 - family, line}, 0, least, outer, side) {
				more++
			}
			if o.goesOn(lineName{1 - family, line}, 0.5, least, outer, side) {
				more--
			}
		}
		most = max(most, more)
	}
	return float64(most) >= goOnShare*float64(o.box.lines(1-family))
}

// goesOn tells whether a string, so many cells aside of a line, is seen or out
// of the picture where a further one would cross it.
func (o *outline) goesOn(name lineName, aside, least float64, outer, side int) bool {
	const places = 6
	good := 0
	for k := range places {
		t := goOnFrom + (goOnTo-goOnFrom)*(float64(k)+0.5)/places
		rise, ok := o.rises(name, aside, float64(outer)+float64(side)*t)
		if !ok && aside == 0 || ok && rise > least {
			good++
		}
	}
	return 2*good > places
}
