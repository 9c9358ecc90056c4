package relief

import "math"

// How far readings of the strings are tried from where the middles of both
// photos' strings lie on each other, in cells.
const shiftCells = 3

// Readings lists every way how the second photo's strings may be the first's:
// four turns, and shifts by whole cells.
func Readings(first, second Photo, pitchCm float64) (out []Turn) {
	lo, hi := first.BoxCm(pitchCm)
	lo2, hi2 := second.BoxCm(pitchCm)
	for quarter := range 4 {
		t := Turn{Quarter: quarter}
		u, v := t.Cm((lo2[0]+hi2[0])/2, (lo2[1]+hi2[1])/2)
		// where the middles cannot meet by whole cells, both ways round are tried
		near := func(d float64) (least, most int) {
			return int(math.Floor(d/pitchCm+0.01)) - shiftCells, int(math.Ceil(d/pitchCm-0.01)) + shiftCells
		}
		u0, u1 := near((lo[0]+hi[0])/2 - u)
		v0, v1 := near((lo[1]+hi[1])/2 - v)
		for i := u0; i <= u1; i++ {
			for j := v0; j <= v1; j++ {
				t.ShiftCm = [2]float64{float64(i) * pitchCm, float64(j) * pitchCm}
				out = append(out, t)
			}
		}
	}
	return out
}
