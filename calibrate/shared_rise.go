package calibrate

import "math"

// riseShare is the standard uncertainty of how far the corners of a frame of
// uneven strings stand out of its plane, as a share of the pitch: a light frame
// twists over rough ground, and strings sag (common practice, no source: 1 cm
// for strings 10 cm apart). Seen from aside it looks like another
// perspective, which no residual shows: an evaluation of type B (JCGM 100:2008,
// 4.3).
const riseShare = 0.1

// risen is what the marks do to the state when the frame is twisted, so that two
// opposite corners rise by one cm and the two others sink; and when each line
// stands out of the plane by one cm, as a whole and turned about its middle.
func (f *fitting) risen(s state) (twist [params]float64, lines map[int]*[2][params]float64) {
	q, ok := poseFor(homography{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}, 1)
	if !ok {
		return twist, nil
	}
	lo, hi := f.pinnedRange()
	along := alongLines(f.marks)
	lines = map[int]*[2][params]float64{}
	v := f.camera.view(s)
	for i, m := range f.marks {
		k := m.family()
		eq, _, ok := v.equations(m)
		if !ok || k < 0 || !(f.weight[i] > 0) || !(hi[k] > lo[k]) {
			continue
		}
		xd, yd := f.camera.normalise(m.At)
		x, y, ok := straighten(xd, yd, s[8])
		if !ok {
			continue
		}
		// Moving a plane along its normal adds to the homography's third column, see [Level.homography].
		r := &eq[0]
		up := f.weight[i] * q.scale * ((q.normal[0]-q.normal[2]*x)*r.jacobian[2] + (q.normal[1]-q.normal[2]*y)*r.jacobian[5])
		outwards := (2*m.pinned() - lo[k] - hi[k]) / (hi[k] - lo[k])
		if lines[m.Line] == nil {
			lines[m.Line] = new([2][params]float64)
		}
		for j := range params {
			twist[j] += up * outwards * along[i] * r.jacobian[j]
			lines[m.Line][0][j] += up * r.jacobian[j]
			lines[m.Line][1][j] += up * along[i] * r.jacobian[j]
		}
	}
	return twist, lines
}

// addRisen adds what standing out of the plane does to the state: the frame's
// twist, and for each line half of it at its two ends.
func (f *fitting) addRisen(meat *square, s state) {
	lo, hi := f.pinnedRange()
	pitch := f.pitch()
	if !(hi[0] > lo[0] && hi[1] > lo[1] && pitch > 0) {
		return
	}
	u := riseShare * pitch
	twist, lines := f.risen(s)
	meat.add(&twist, u*u)
	for _, line := range sortedKeys(lines) {
		for k := range 2 {
			meat.add(&lines[line][k], u*u/8)
		}
	}
}

// pitch is the least distance between two lines of a family.
func (f *fitting) pitch() float64 {
	least := math.Inf(1)
	places := map[[2]float64]bool{}
	for _, m := range f.marks {
		places[[2]float64{float64(m.family()), m.pinned()}] = true
	}
	for a := range places {
		for b := range places {
			if d := math.Abs(a[1] - b[1]); a[0] == b[0] && d > 0 {
				least = min(least, d)
			}
		}
	}
	return least
}
