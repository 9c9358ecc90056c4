package calibrate

import (
	"math"
	"slices"
)

// An evenness is how evenly strings stand: each rms, in cells.
type evenness struct{ cellPx, wander, offset float64 }

// evenness of the strings that carry the fit.
func (p *Plane) evenness(ref Reference, kept []Mark) (e evenness) {
	offsets := p.lineOffsets(kept)
	n := 0.0
	for _, line := range sortedKeys(offsets) {
		o := offsets[line]
		side := o.pxPerCm * ref.PitchCm
		e.wander += o.wander * o.wander / side / side
		e.offset += o.mean * o.mean / side / side
		e.cellPx, n = e.cellPx+side, n+1
	}
	e.cellPx, e.wander = e.cellPx/n, math.Sqrt(e.wander/n)
	e.offset = math.Sqrt(e.offset / max(1, n-5))
	return e
}

// tidy tells whether strings stand and run as on a frame made with care, seen
// from where it matters little what stands out of its plane.
func (p *Plane) tidy(ref Reference, kept []Mark) bool {
	tilt, known := p.TiltDeg()
	return p.evenness(ref, kept).judge(tidyGridWander, ref.tidyOffset()) == nil &&
		math.Abs(p.K1) <= maxGridK1 && !(known && tilt > tidyGridTiltDeg)
}

// tidyOffset is how far, in cells and as a standard deviation, strings of such
// a frame stand off their places.
func (r Reference) tidyOffset() float64 {
	return math.Hypot(tidyGridOffset, 1.4*r.LineUCm()/r.PitchCm)
}

func (e evenness) judge(wander, offset float64) error {
	if e.wander > wander {
		return Refuse(retakeGrid, "grid: the lines wander by %.1f %% of a cell, limit %.1f %%: strings are slack, or not all of them are strings", 100*e.wander, 100*wander)
	}
	if e.offset > offset {
		return Refuse(retakeGrid, "grid: the lines stand %.1f %% of a cell off an even pitch, limit %.1f %%", 100*e.offset, 100*offset)
	}
	return nil
}

// leavesOut tells whether a string far off its place was left out of the few
// of a family. Few fit a plane well wherever they stand, and then the one that
// does not is no exception.
func (p *Plane) leavesOut(ref Reference, marks, kept []Mark) bool {
	carried := stringsOf(kept)
	offsets := p.lineOffsets(marks)
	for k, family := range stringsOf(marks) {
		if len(family) >= gridSureStrings {
			continue
		}
		for _, s := range family {
			i := slices.IndexFunc(carried[k], func(c gridString) bool { return c.line == s.line })
			o := offsets[s.line]
			if (i < 0 || 2*carried[k][i].marks < s.marks) && math.Abs(o.median) > 2*ref.tidyOffset()*o.pxPerCm*ref.PitchCm {
				return true
			}
		}
	}
	return false
}
