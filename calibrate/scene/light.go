package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// Light is the sun and the sky. The zero value is a high sun from the upper left under a blue sky.
type Light struct {
	SunFromDeg float64 // the bearing the sun stands at, clockwise from +y
	SunHighDeg float64 // its height; 0: 52 degrees
	Sun        Colour  // what it sends down to a surface that faces it; zero: warm white
	Sky        Colour  // what the sky sends down; zero: blue
	Cloud      float64 // 0: hard shadows; towards 1 the sun goes behind cloud
	Shades     []Shade // what stands out of the picture and throws its shadow in
}

// A Shade is a flat thing that is not seen but shades: a person, an awning.
type Shade struct {
	Pose
	WidthCm, LengthCm float64
}

// lamp is a light worked out.
type lamp struct {
	to       vec // towards the sun
	sun, sky [3]float32
	casters  []caster
}

// A caster is a thing above the ground that shades what lies below it.
type caster interface {
	// shadow is the share of the sun that is kept from a place, 0 to 1.
	shadow(p vec, toSun vec) float32
}

func (l Light) lamp() *lamp {
	high := l.SunHighDeg
	if high == 0 {
		high = 52
	}
	sun, sky := l.Sun, l.Sky
	if sun == (Colour{}) {
		sun = Colour{1, 0.93, 0.82}
	}
	if sky == (Colour{}) {
		sky = Colour{0.15, 0.19, 0.26}
	}
	m := &lamp{to: heading(90-high, l.SunFromDeg)}
	for i := range 3 {
		m.sun[i] = float32(sun[i] * (1 - 0.9*l.Cloud))
		m.sky[i] = float32(sky[i]*(1-l.Cloud) + l.Cloud*0.45)
	}
	for _, s := range l.Shades {
		f := s.axes()
		m.casters = append(m.casters, flatCaster{f, s.WidthCm / 2, s.LengthCm / 2})
	}
	return m
}

// halfSun is half the width that the sun's disc (0.53 degrees across) blurs a shadow by, per cm from what throws it.
const halfSun = 0.0046

// flatCaster is the shadow of a rectangle.
type flatCaster struct {
	axes
	halfU, halfV float64
}

func (c flatCaster) shadow(p vec, toSun vec) float32 {
	away := c.at.minus(p).dot(c.up) / toSun.dot(c.up)
	if !(away > 0) {
		return 0
	}
	q := p.plus(toSun.times(away)).minus(c.at)
	soft := max(0.02, halfSun*away)
	u := within(c.halfU-math.Abs(c.u.dot(q)), soft)
	if u == 0 {
		return 0
	}
	return float32(u * within(c.halfV-math.Abs(c.v.dot(q)), soft))
}

// within goes from 0 at -soft to 1 at soft.
func within(inside, soft float64) float64 {
	t := 0.5 + inside/(2*soft)
	return noise.Smooth(min(max(t, 0), 1))
}

// shade is the share of the sun that reaches a place past the casters.
func (m *lamp) shade(p vec) float32 {
	lit := float32(1)
	for _, c := range m.casters {
		lit *= 1 - c.shadow(p, m.to)
	}
	return lit
}

// castDark works out, row by row away from the sun, below which height each cell lies in the field's own shadow.
func (s *site) castDark(m *lamp) {
	tan := m.to.z / math.Hypot(m.to.x, m.to.y)
	alongX := math.Abs(m.to.x) > math.Abs(m.to.y)
	major, minor := m.to.y, m.to.x
	outer, inner := s.ny, s.nx
	strideO, strideI := s.nx, 1
	if alongX {
		major, minor = minor, major
		outer, inner = inner, outer
		strideO, strideI = 1, s.nx
	}
	step := 1 // the way to the sun
	if major < 0 {
		step = -1
	}
	aside := float32(minor / math.Abs(major))
	drop := float32(math.Sqrt(1+float64(aside)*float64(aside))*tan) * s.cell
	whole := noise.Floor(aside)
	f := aside - float32(whole)
	const low = -1e6
	for k := range outer {
		o := k
		if step > 0 {
			o = outer - 1 - k
		}
		before := o + step
		for i := range inner {
			n := o*strideO + i*strideI
			if before < 0 || before >= outer {
				s.dark[n] = low
				continue
			}
			a, b := i+whole, i+whole+1
			if a < 0 || b >= inner {
				s.dark[n] = low
				continue
			}
			p, q := before*strideO+a*strideI, before*strideO+b*strideI
			dp, dq := max(s.h[p], s.dark[p]), max(s.h[q], s.dark[q])
			s.dark[n] = dp + (dq-dp)*f - drop
		}
	}
}
