package scene

import "math"

// strands are the grid's strings with their knots and loose ends.
func (l *layout) strands(seed uint64) (out []*strand) {
	if l.g.ShadowOnly {
		return nil
	}
	colour := l.g.String.Colour
	if colour == (Colour{}) {
		colour = Colour{0.78, 0.77, 0.73}
	}
	for f := range 2 {
		for n := range l.families[f] {
			c := &l.families[f][n]
			if c.gone {
				continue
			}
			steps := max(8, int(2*c.halfCm/0.8))
			s := &strand{radius: l.radius, colour: colour, twist: l.g.String.Twist}
			for i := range steps + 1 {
				u, v, below := l.at(f, c, c.halfCm*(2*float64(i)/float64(steps)-1))
				s.at = append(s.at, l.frame.world(u, v, -below))
			}
			out = append(out, s)
			for end := range 2 {
				if h := hash2(seed+uint64(f), n, 31+end); share(h, 0) < l.g.String.Tails {
					u, v, below := l.at(f, c, c.halfCm*float64(2*end-1))
					out = append(out, l.tail(u, v, -below, colour, mix(h)))
				}
			}
		}
	}
	return append(out, l.knots(seed, colour)...)
}

// knots are where the strings are tied to each other.
func (l *layout) knots(seed uint64, colour Colour) (out []*strand) {
	if l.g.String.Knots == 0 {
		return nil
	}
	for i := range l.families[0] {
		for j := range l.families[1] {
			a, b := &l.families[0][i], &l.families[1][j]
			h := hash2(seed+91, i, j)
			if a.gone || b.gone || share(h, 0) >= l.g.String.Knots {
				continue
			}
			u, v, below := l.crossing(a, b)
			r := l.radius * (1.5 + 0.5*share(h, 1))
			sin, cos := math.Sincos(math.Pi * share(h, 2))
			du, dv := 0.6*r*cos, 0.6*r*sin
			out = append(out, &strand{radius: r, colour: colour, at: []vec{l.frame.world(u-du, v-dv, -below), l.frame.world(u+du, v+dv, -below)}})
		}
	}
	return out
}

// tail is a loose end: it curls, or lies in a loop, and sinks a little.
func (l *layout) tail(u, v, out float64, colour Colour, h uint64) *strand {
	s := &strand{radius: 0.8 * l.radius, colour: colour}
	const step = 0.25
	turn := 2 * math.Pi * share(h, 0)
	long := 2 + 7*share(h, 1)
	bend := 0.9 * (share(h, 2) - 0.5)
	if share(h, 3) < 0.3 { // a loop
		bend, long = 0.25+0.3*share(mix(h), 0), 5.5
	}
	for i := range int(long/step) + 1 {
		s.at = append(s.at, l.frame.world(u, v, out-0.02*float64(i)*step))
		sin, cos := math.Sincos(turn)
		u, v = u+step*cos, v+step*sin
		turn += bend * step * 4 * (0.7 + 0.6*share(hash2(h, i, 5), 0))
	}
	return s
}

// shadow makes the strings casters.
func (l *layout) shadow(p vec, toSun vec) float32 {
	down := toSun.dot(l.frame.up)
	away := l.frame.at.minus(p).dot(l.frame.up) / down
	if !(away > 0) {
		return 0
	}
	u, v, _ := l.frame.local(p.plus(toSun.times(away)).minus(l.frame.at))
	sunU, sunV, _ := l.frame.local(toSun)
	soft := max(0.03, halfSun*away)
	b := v / l.pitchDown
	a := (u - b*l.leanU) / l.g.PitchCm
	open := 1.0
	for f, cells := range [2]float64{a, b} {
		list := l.families[f]
		n := int(math.Round(cells - list[0].at))
		if n < 0 || n >= len(list) || list[n].gone {
			continue
		}
		c := &list[n]
		along, pitch, sun := v/l.down.v, l.g.PitchCm*l.down.v, sunU
		if f == 1 {
			along, pitch, sun = u-b*l.leanU, l.pitchDown, sunV
		}
		if math.Abs(along) > c.halfCm {
			continue
		}
		aside, below := c.shift(along)
		off := math.Abs((cells-c.at)*pitch - aside - sun/down*below)
		open *= 1 - (within(l.radius-off, soft) - within(-l.radius-off, soft))
	}
	return float32(1 - open)
}
