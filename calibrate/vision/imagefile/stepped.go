package imagefile

import "slices"

// stepped tells whether a row of blocks is lighter or darker than the one above from some column on and not before, and the
// next row than it up to that column and no farther, all by the same amount. In between up to half a row may be anything: the
// blocks that were spoilt. An edge of shade, a horizon or a black border is none, since it has no such place.
func stepped(row, next [][3]float64) bool {
	n := len(row)
	for _, by := range [][3]float64{middle(row[n/2:]), middle(next[:n/2])} {
		if by[0]*by[0]+by[1]*by[1]+by[2]*by[2] < stepLevels*stepLevels {
			continue
		}
		here, below := sums(row, by), sums(next, by)
		for x0 := n / 16; x0 <= n-n/16; x0++ {
			if 2*below[x0] < x0 || -2*here[x0] < x0 {
				continue
			}
			for x1 := x0; x1 <= min(n-n/16, x0+n/2); x1++ {
				if rest := n - x1; 2*(here[n]-here[x1]) >= rest && -2*(below[n]-below[x1]) >= rest {
					return true
				}
			}
		}
	}
	return false
}

// sums counts, up to each column, in how many the step is about as given, less those in which it is not.
func sums(steps [][3]float64, by [3]float64) []int {
	out := make([]int, len(steps)+1)
	for c, s := range steps {
		share := (s[0]*by[0] + s[1]*by[1] + s[2]*by[2]) / (by[0]*by[0] + by[1]*by[1] + by[2]*by[2])
		out[c+1] = out[c] - 1
		if share > 0.6 && share < 1.6 {
			out[c+1] = out[c] + 1
		}
	}
	return out
}

// middle is the median of each colour.
func middle(steps [][3]float64) (m [3]float64) {
	of := make([]float64, len(steps))
	for colour := range m {
		for i, s := range steps {
			of[i] = s[colour]
		}
		slices.Sort(of)
		m[colour] = of[len(of)/2]
	}
	return m
}
