package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// colour is the strings'.
func (l *layout) colour() Colour {
	if l.g.String.Colour == (Colour{}) {
		return Colour{0.78, 0.77, 0.73}
	}
	return l.g.String.Colour
}

// strings are the cords of the grid's strings, with their knots, fibres and loose ends.
func (l *layout) strings(seed uint64) (out []*cord) {
	colour := l.colour()
	for f := range 2 {
		for n := range l.families[f] {
			c := &l.families[f][n]
			if c.gone {
				continue
			}
			steps := max(8, int(2*c.halfCm/min(0.8, c.stepCm/8)))
			s := &cord{radius: l.radius, colour: colour, twist: l.g.String.Twist}
			for i := range steps + 1 {
				u, v, below := l.at(f, c, c.halfCm*(2*float64(i)/float64(steps)-1))
				s.at = append(s.at, l.axes.world(u, v, -below))
			}
			out = append(out, s)
			out = append(out, l.frays(s, noise.Hash(seed+uint64(f), n, 41))...)
			for end := range 2 {
				if h := noise.Hash(seed+uint64(f), n, 31+end); noise.Share(h, 0) < l.g.String.Tails {
					u, v, below := l.at(f, c, c.halfCm*float64(2*end-1))
					out = append(out, l.tail(u, v, -below, colour, noise.Mix(h)))
				}
			}
		}
	}
	out = append(out, l.knots(seed, colour)...)
	for _, s := range out {
		s.unseen = l.g.ShadowOnly
	}
	return out
}

// knots are where the strings are tied to each other.
func (l *layout) knots(seed uint64, colour Colour) (out []*cord) {
	if l.g.String.Knots == 0 {
		return nil
	}
	for i := range l.families[0] {
		for j := range l.families[1] {
			a, b := &l.families[0][i], &l.families[1][j]
			h := noise.Hash(seed+91, i, j)
			if a.gone || b.gone || noise.Share(h, 0) >= l.g.String.Knots {
				continue
			}
			u, v, below := l.crossing(a, b)
			r := l.radius * (1.5 + 0.5*noise.Share(h, 1))
			sin, cos := math.Sincos(math.Pi * noise.Share(h, 2))
			du, dv := 0.6*r*cos, 0.6*r*sin
			out = append(out, &cord{radius: r, colour: colour, at: []vec{l.axes.world(u-du, v-dv, -below), l.axes.world(u+du, v+dv, -below)}})
		}
	}
	return out
}

// tail is a loose end: it curls, or lies in a loop, and sinks a little.
func (l *layout) tail(u, v, out float64, colour Colour, h uint64) *cord {
	s := &cord{radius: 0.8 * l.radius, colour: colour}
	const step = 0.25
	turn := 2 * math.Pi * noise.Share(h, 0)
	long := 2 + 7*noise.Share(h, 1)
	bend := 0.9 * (noise.Share(h, 2) - 0.5)
	if noise.Share(h, 3) < 0.3 { // a loop
		bend, long = 0.25+0.3*noise.Share(noise.Mix(h), 0), 5.5
	}
	for i := range int(long/step) + 1 {
		s.at = append(s.at, l.axes.world(u, v, out-0.02*float64(i)*step))
		sin, cos := math.Sincos(turn)
		u, v = u+step*cos, v+step*sin
		turn += bend * step * 4 * (0.7 + 0.6*noise.Share(noise.Hash(h, i, 5), 0))
	}
	return s
}

// frays are the fibres that stand out of a string.
func (l *layout) frays(s *cord, seed uint64) (out []*cord) {
	for i := 1; i < len(s.at)-1; i++ {
		for k := range 3 {
			h := noise.Hash(seed, i, k)
			if noise.Share(h, 0) >= 0.5*l.g.String.Frays {
				continue
			}
			long := l.radius * (1.5 + 4*noise.Share(h, 1)*noise.Share(h, 2))
			g := noise.Mix(h)
			turn, lean := 2*math.Pi*noise.Share(g, 0), 2*noise.Share(g, 1)-1
			sin, cos := math.Sincos(turn)
			from := s.at[i].plus(s.at[i+1].minus(s.at[i]).times(noise.Share(g, 2)))
			way := l.axes.u.times(cos).plus(l.axes.v.times(sin)).plus(l.axes.up.times(lean))
			out = append(out, &cord{radius: 0.012, colour: s.colour, at: []vec{from, from.plus(way.times(0.6 * long)), from.plus(way.times(long)).plus(l.axes.up.times(-0.3 * long))}})
		}
	}
	return out
}
