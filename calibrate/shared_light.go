package calibrate

import "math"

// litShare is the standard uncertainty of the middle of a string's light at
// the outermost strings of a family, against that at its middle, as a share of
// the string's width in the photo. A string is round: its side towards the sky
// or the sun is lighter, and the more so the more obliquely it is seen, so that
// the middle of the light lies beside the string's axis by an amount that
// grows across the photo. Strings lit alike move alike, which looks like
// another pitch: no residual shows it, so it is an evaluation of type B (JCGM
// 100:2008, 4.3), from renders of matt cylinders under sun and sky.
const litShare = 0.035

// lit gives for each family what its marks do to the state when the light
// moves them outwards, the outermost by their width; zero where the marks'
// widths are not known.
func (f *fitting) lit(s state) (out [2][params]float64) {
	lo, hi := f.pinnedRange()
	v := f.camera.view(s)
	for i, m := range f.marks {
		k := m.family()
		if k < 0 || !(f.weight[i] > 0) || !(hi[k] > lo[k]) {
			continue
		}
		eq, _, ok := v.equations(m)
		if !ok {
			continue
		}
		outwards := (2*m.pinned() - lo[k] - hi[k]) / (hi[k] - lo[k])
		for j := range params {
			out[k][j] += f.weight[i] * eq[0].jacobian[j] * m.WidthPx * outwards
		}
	}
	return out
}

// pinnedRange is from where to where the lines of each family stand.
func (f *fitting) pinnedRange() (lo, hi [2]float64) {
	for k := range lo {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	for i, m := range f.marks {
		if k := m.family(); f.weight[i] > 0 && k >= 0 {
			lo[k], hi[k] = min(lo[k], m.pinned()), max(hi[k], m.pinned())
		}
	}
	return lo, hi
}

// family is 0 for a mark on a line U = const, 1 on V = const, else -1.
func (m Mark) family() int { return int(m.Pins - PinsU) }

// pinned is the coordinate that a mark on a line is known by, in cm.
func (m Mark) pinned() float64 {
	if m.Pins == PinsV {
		return m.VCm
	}
	return m.UCm
}
