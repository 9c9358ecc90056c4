package calibrate

import "math"

// gridStart is a first homography from marks that pin one coordinate each: a
// straight line through each string's marks, and where lines of the two
// families cross.
func gridStart(camera Camera, marks []Mark) ([9]float64, bool) {
	type line struct {
		at      float64
		n       float64
		a, b, c float64 // a x + b y = c in the normalised picture
	}
	sums := map[int]*[6]float64{}
	place := map[int]Mark{}
	for _, m := range marks {
		x, y := camera.normalise(m.At)
		s := sums[m.Line]
		if s == nil {
			s = new([6]float64)
			sums[m.Line] = s
			place[m.Line] = m
		}
		for i, v := range []float64{1, x, y, x * x, x * y, y * y} {
			s[i] += v
		}
	}
	var families [3][]line
	for _, k := range sortedKeys(sums) {
		s, m := sums[k], place[k]
		n := s[0]
		if n < 2 || m.Pins == PinsBoth {
			continue
		}
		mx, my := s[1]/n, s[2]/n
		xx, xy, yy := s[3]/n-mx*mx, s[4]/n-mx*my, s[5]/n-my*my
		sin, cos := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
		l := line{at: m.UCm, n: n, a: -sin, b: cos}
		if m.Pins == PinsV {
			l.at = m.VCm
		}
		l.c = l.a*mx + l.b*my
		families[m.Pins] = append(families[m.Pins], l)
	}
	var pairs []pair
	for _, u := range families[PinsU] {
		for _, v := range families[PinsV] {
			det := u.a*v.b - u.b*v.a
			if math.Abs(det) < 0.05 {
				continue
			}
			pairs = append(pairs, pair{u.at, v.at, (u.c*v.b - u.b*v.c) / det, (u.a*v.c - u.c*v.a) / det})
		}
	}
	h, ok := direct(pairs)
	return h, ok
}
