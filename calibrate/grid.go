package calibrate

import (
	"cmp"
	"math"
	"slices"
)

// What a grid must show to be believed.
const (
	minGridStrings  = 3     // of the family with fewer
	minGridMost     = 4     // of the other
	minGridCellPx   = 24    // side of a cell
	maxGridTiltDeg  = 78    //
	tidyGridTiltDeg = 62    // beyond which a string's sag looks like much: it is never taken for tidy
	maxGridK1       = 0.14  // per focal length
	maxGridWander   = 0.05  // rms of marks about their own string, in cells
	maxGridOffset   = 0.087 // standard deviation of the strings' places, in cells: each up to 0.15 off
	tidyGridWander  = 0.015 // the same of a grid that is made with care
	tidyGridOffset  = 0.008 // and its strings' places, beyond what the tolerance allows
	maxGridU        = 0.10  // relative U of a length in its middle
	minGridUsed     = 0.6   // share of the marks that carry the fit
	gridSureStrings = 8     // strings of a family from which on one that is off is believed to be the only one
	gridFreeStrings = 5     // strings of a family from which on its outermost must fit the others

	retakeGrid = "retake it squarer from above in even light, the whole grid in the frame, nothing lying on the strings; a card or bar laid on the bone also gives the scale"
)

// FitGrid makes the plane of a grid of strings from marks that each pin one
// coordinate, U = number times pitch on one family of strings and V on the
// other, with the string's number in Line and its cell edge's in Edge. It
// refuses what does not hold: too few strings, strings that wander or do not
// stand at one pitch, a lattice that is not square for any likely focal
// length, a strong tilt or lens term, and more or fewer strings than the
// frame has, where the reference says how many.
//
// Strings may be woven, sag, or stand up to 0.15 cells off their places: how
// far they do is measured from themselves and goes into U, and the lens is not
// taken from them. What would come to a U of more than 10 % is refused.
//
// A frame pushed out of square fits a homography almost perfectly. Where the
// focal length is known it shows all the same, and the plane is corrected for
// it as far as it shows, see [Frame]; the rest is in U.
func FitGrid(ref Reference, camera Camera, marks []Mark) (*Plane, error) {
	if err := ref.Validate(); err != nil {
		return nil, err
	}
	if err := validateMarks(camera, marks); err != nil {
		return nil, err
	}
	strings := stringsOf(marks)
	if err := countStrings(strings); err != nil {
		return nil, err
	}
	start, ok := gridStart(camera, marks)
	if !ok {
		return nil, Refuse(retakeGrid, "grid: %d and %d strings do not cross in a way that fixes a plane", len(strings[0]), len(strings[1]))
	}
	p, kept, err := fitStrings(ref, camera, marks, FitOptions{Start: &start})
	if err != nil || !p.tidy(ref, kept) || p.leavesOut(ref, marks, kept) {
		if p, kept, err = fitStrings(ref, camera, marks, FitOptions{Start: &start, Uneven: true}); err != nil {
			return nil, err
		}
		p.Uneven = true
	}
	if err := judgeGrid(ref, p, kept); err != nil {
		return nil, err
	}
	if err := p.square(ref); err != nil {
		return nil, err
	}
	return p, p.judgeMiddle()
}

// fitStrings fits the plane and gives the marks that carry it.
func fitStrings(ref Reference, camera Camera, marks []Mark, o FitOptions) (*Plane, []Mark, error) {
	if !o.Uneven {
		var err error
		if marks, err = withoutFrameEdges(ref, camera, marks, o); err != nil {
			return nil, nil, err
		}
	}
	p, used, err := Fit(ref, camera, marks, o)
	if err != nil {
		return nil, nil, Refuse(retakeGrid, "grid: %d marks on strings do not fix a plane: %v", len(marks), err)
	}
	kept := slices.Clone(marks[:0])
	for i, m := range marks {
		if used[i] {
			kept = append(kept, m)
		}
	}
	return p, kept, nil
}

// A gridString is one string of a grid: its number and how many marks it has.
type gridString struct{ line, number, marks int }

// stringsOf lists the strings of both families in the order of their places.
func stringsOf(marks []Mark) (families [2][]gridString) {
	for _, m := range marks {
		if m.Pins != PinsU && m.Pins != PinsV {
			continue
		}
		family := &families[m.Pins-PinsU]
		i := slices.IndexFunc(*family, func(s gridString) bool { return s.line == m.Line })
		if i < 0 {
			i = len(*family)
			*family = append(*family, gridString{line: m.Line})
		}
		(*family)[i].marks++
	}
	for k := range families {
		place := map[int]float64{}
		for _, m := range marks {
			if m.Pins == PinsU {
				place[m.Line] = m.UCm
			} else {
				place[m.Line] = m.VCm
			}
		}
		slices.SortStableFunc(families[k], func(a, b gridString) int { return cmp.Compare(place[a.line], place[b.line]) })
		for i := range families[k] {
			families[k][i].number = i
		}
	}
	return families
}

func countStrings(families [2][]gridString) error {
	few, most := len(families[0]), len(families[1])
	if few > most {
		few, most = most, few
	}
	if few < minGridStrings || most < minGridMost {
		return Refuse(retakeGrid, "grid: %d and %d strings found, need %d and %d", few, most, minGridStrings, minGridMost)
	}
	return nil
}

// withoutFrameEdges drops an outermost string that does not fit the plane of
// the others: one along the frame's edge is often half hidden by it, or is
// the edge itself.
func withoutFrameEdges(ref Reference, camera Camera, marks []Mark, o FitOptions) ([]Mark, error) {
	outer := map[int]bool{}
	for _, family := range stringsOf(marks) {
		if len(family) >= gridFreeStrings {
			outer[family[0].line], outer[family[len(family)-1].line] = true, true
		}
	}
	inner := slices.DeleteFunc(slices.Clone(marks), func(m Mark) bool { return outer[m.Line] })
	o.Rough = true
	p, _, err := Fit(ref, camera, inner, o)
	if err != nil {
		return nil, Refuse(retakeGrid, "grid: %d marks on strings do not fix a plane: %v", len(inner), err)
	}
	return withoutStray(marks, p.lineOffsets(marks), outer, 0.25, 3.5*1.48), nil
}

// withoutStray drops the marks of those outer lines that lie farther off their
// places than leastPx and than times the inner lines' median.
func withoutStray(marks []Mark, offsets map[int]lineOffset, outer map[int]bool, leastPx, times float64) []Mark {
	var own []float64
	for _, line := range sortedKeys(offsets) {
		if !outer[line] {
			own = append(own, math.Abs(offsets[line].median))
		}
	}
	limit := max(leastPx, times*median(own))
	return slices.DeleteFunc(slices.Clone(marks), func(m Mark) bool {
		return outer[m.Line] && !(math.Abs(offsets[m.Line].median) <= limit)
	})
}

// A lineOffset is how a string lies beside its place, in px across it.
type lineOffset struct{ mean, median, wander, pxPerCm float64 }

// lineOffsets gives that of each line of the marks.
func (p *Plane) lineOffsets(marks []Mark) map[int]lineOffset {
	var s state
	copy(s[:8], p.Homography[:8])
	s[8], s[9] = p.K1, 1
	residuals, scales := map[int][]float64{}, map[int][]float64{}
	seen := p.Camera.view(s)
	for _, m := range marks {
		eq, _, ok := seen.equations(m)
		if ok {
			residuals[m.Line] = append(residuals[m.Line], eq[0].residual)
			scales[m.Line] = append(scales[m.Line], eq[0].pxPerCm)
		}
	}
	out := map[int]lineOffset{}
	for line, v := range residuals {
		o := lineOffset{mean: meanOf(v), pxPerCm: meanOf(scales[line])}
		for _, x := range v {
			o.wander += (x - o.mean) * (x - o.mean) / float64(len(v))
		}
		o.wander = math.Sqrt(o.wander)
		o.median = median(v)
		out[line] = o
	}
	return out
}

// judgeGrid refuses a plane that the marks do not bear out.
func judgeGrid(ref Reference, p *Plane, kept []Mark) error {
	if err := countStrings(stringsOf(kept)); err != nil {
		return err
	}
	if float64(p.Used) < minGridUsed*float64(p.Marks) {
		return Refuse(retakeGrid, "grid: only %d of %d places on the strings agree, need %.0f %%", p.Used, p.Marks, 100*minGridUsed)
	}
	e := p.evenness(ref, kept)
	if e.cellPx < minGridCellPx {
		return Refuse("go nearer, so that the grid is larger in the picture", "grid: squares of %.0f px, need %d", e.cellPx, minGridCellPx)
	}
	if err := e.judge(maxGridWander, maxGridOffset); err != nil {
		return err
	}
	if math.Abs(p.K1) > maxGridK1 {
		return Refuse("retake it with the phone's main lens, without zoom", "grid: the lens would have to bend lines by %.2f, limit %.2f", p.K1, maxGridK1)
	}
	if tilt, known := p.TiltDeg(); known && tilt > maxGridTiltDeg {
		return Refuse(retakeGrid, "grid: seen at a camera tilt of %.0f degrees, limit %d", tilt, maxGridTiltDeg)
	}
	return judgeCells(ref, p)
}

// judgeMiddle refuses a plane that says too little even in the middle of its
// strings.
func (p *Plane) judgeMiddle() error {
	level, err := p.At(0)
	if err != nil {
		return err
	}
	q, err := level.ScalePxPerCm(p.MiddleCm())
	if err != nil {
		return err
	}
	if q.U > maxGridU*q.Value {
		return Refuse(retakeGrid, "grid: its strings are so uneven or so few that lengths in its middle would be known to %.0f %%, limit %.0f %%", 100*q.U/q.Value, 100*maxGridU)
	}
	return nil
}
