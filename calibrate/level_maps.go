package calibrate

// maps are the homography of a level and its inverse; false: there is none.
type maps struct {
	to, from     homography
	seen, solved bool
}

func (l Level) maps() (m maps) {
	if l.own != nil {
		return *l.own
	}
	if m.to, m.seen = l.homography(l.state()); m.seen {
		m.from, m.solved = m.to.inverse()
	}
	return m
}

// worked is the level with its maps worked out, for many points.
func (l Level) worked() Level {
	m := l.maps()
	l.own = &m
	return l
}

// homography gives the homography of the level (cm on the level to the normalised
// straight picture). Moving a plane by z along its normal n adds z times the
// picture of n to the third column.
func (l Level) homography(s state) (homography, bool) {
	h := homography{s[0], s[1], s[2], s[3], s[4], s[5], s[6], s[7], 1}
	if l.belowCm == 0 {
		return h, true
	}
	q, ok := poseFor(h, s[9])
	if !ok {
		return h, false
	}
	z := l.belowCm * q.scale
	h[2] += z * q.normal[0] * s[9]
	h[5] += z * q.normal[1] * s[9]
	h[8] += z * q.normal[2]
	return h, h[8] > 0
}

// cm takes a photo point to the level for a state.
func (l Level) cm(s state, p Point) (u, v float64, ok bool) {
	from, ok := l.inverse(s)
	if !ok {
		return 0, 0, false
	}
	return l.back(from, s[8], p)
}

// inverse is the inverse of the level's homography for a state.
func (l Level) inverse(s state) (homography, bool) {
	h, ok := l.homography(s)
	if !ok {
		return h, false
	}
	return h.inverse()
}

// back takes a photo point to the level by the inverse of its homography.
func (l Level) back(from homography, k1 float64, p Point) (u, v float64, ok bool) {
	xd, yd := l.plane.Camera.normalise(p)
	x, y, ok := straighten(xd, yd, k1)
	if !ok {
		return 0, 0, false
	}
	return from.apply(x, y)
}
