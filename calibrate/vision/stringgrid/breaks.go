package stringgrid

import "slices"

// Where the strings that cross a family's lines break off between two of them:
// so far, in steps of a cell, hardly any is seen, though most are elsewhere.
const (
	breakSteps = 14
	breakWide  = 7
	breakLines = 3    // on either side of it
	breakLeast = 6    // strings that cross them
	breakShare = 0.35 // of the usual share that is seen,
	breakUsual = 0.2  // which must be so large
)

// breaks tells for each gap between a family's lines whether the strings that
// cross them break off in it.
func (o *outline) breaks(family int) []bool {
	n := float64(o.box.lines(1 - family))
	out := make([]bool, o.box.lines(family)-1)
	if n < breakLeast || len(out) <= 2*breakLines {
		return out
	}
	var shares []float64
	for i := range breakSteps * (o.box.lines(family) - 1) {
		t := float64(o.box.lo[family]) + (float64(i)+0.5)/breakSteps
		share := 0.0
		for line := o.box.lo[1-family]; line <= o.box.hi[1-family]; line++ {
			for _, aside := range []float64{0, 0.5} {
				if rise, ok := o.rises(lineName{1 - family, line}, aside, t); ok && rise > goOnRise {
					share += (1 - 4*aside) / n
				}
			}
		}
		shares = append(shares, share)
	}
	usual := median(slices.Clone(shares))
	run := 0
	for i, share := range shares {
		if run++; share >= breakShare*usual {
			run = 0
		}
		if usual >= breakUsual && run >= breakWide {
			out[i/breakSteps] = true
		}
	}
	return out
}

// cut draws the box in to one side of a tube or board across it, or of a gap
// that no string crosses, to the side that has more lines: another frame lies
// beyond. false: there is none.
func (o *outline) cut() bool {
	for family := range 2 {
		ground, breaks := o.ground(family), o.breaks(family)
		for i := range breaks {
			line := o.box.lo[family] + i
			least := min(i+1, len(breaks)-i) // lines on the side with fewer
			if _, ok := o.framed(family, line, 1, 1, ground); !ok && !(breaks[i] && least >= breakLines) {
				continue
			}
			if i >= len(breaks)-1-i {
				o.box.hi[family] = line
			} else {
				o.box.lo[family] = line + 1
			}
			return true
		}
	}
	return false
}
