package scene

import "math"

// A panel is a flat sheet or box with something on its face, drawn ray by ray.
type panel struct {
	axes
	halfU, halfV, thick float64
	side                Colour // of its edges
	// paint gives the face at (u, v) from its middle: its reflectance, and a number that differs wherever the reflectance
	// jumps, so that edges are found and drawn smoothly.
	paint func(u, v float64) (c Colour, part int)
	fine  bool // has details narrower than a pixel: every pixel of it is drawn by many rays
	// the part of the picture it can be in
	minX, minY, maxX, maxY int
}

// A strike is where a ray meets a panel.
type strike struct {
	t      float64 // along the ray
	colour Colour
	normal vec
	part   int
}

// bound works out where in the picture the panel can be.
func (p *panel) bound(e *eye, width, height int) {
	p.minX, p.minY, p.maxX, p.maxY = width, height, -1, -1
	for n := range 8 {
		u, v, out := p.halfU, p.halfV, 0.0
		if n&1 != 0 {
			u = -u
		}
		if n&2 != 0 {
			v = -v
		}
		if n&4 != 0 {
			out = -p.thick
		}
		q, ok := e.photo(p.world(u, v, out))
		if !ok {
			p.minX, p.minY, p.maxX, p.maxY = 0, 0, width-1, height-1
			return
		}
		const slack = 6 // px: a bent lens bows the sides out
		bow := slack + 0.01*float64(width)*math.Abs(e.k1)*20
		p.minX, p.maxX = min(p.minX, int(q.XPx-bow)), max(p.maxX, int(q.XPx+bow))
		p.minY, p.maxY = min(p.minY, int(q.YPx-bow)), max(p.maxY, int(q.YPx+bow))
	}
}

// meet follows a ray from the eye to the panel's face, or else to one of its edges.
func (p *panel) meet(from, d vec) (strike, bool) {
	o := from.minus(p.at)
	ou, ov, on := p.local(o)
	du, dv, dn := p.local(d)
	if on <= 0 || dn >= 0 {
		return strike{}, false // seen from behind: not drawn
	}
	t := -on / dn
	u, v := ou+t*du, ov+t*dv
	if math.Abs(u) <= p.halfU && math.Abs(v) <= p.halfV {
		c, part := p.paint(u, v)
		return strike{t, c, p.up, part}, true
	}
	end := -(on + p.thick) / dn // where the ray leaves the box below
	if p.thick == 0 {
		return strike{}, false
	}
	enter, normal := t, vec{}
	for _, axis := range [2]struct {
		o, d, half float64
		n          vec
	}{{ou, du, p.halfU, p.u}, {ov, dv, p.halfV, p.v}} {
		if axis.d == 0 {
			if math.Abs(axis.o) > axis.half {
				return strike{}, false
			}
			continue
		}
		a, b := (-axis.half-axis.o)/axis.d, (axis.half-axis.o)/axis.d
		n := axis.n.times(-1)
		if a > b {
			a, b, n = b, a, axis.n
		}
		if a > enter {
			enter, normal = a, n
		}
		end = min(end, b)
	}
	if enter > end {
		return strike{}, false
	}
	return strike{enter, p.side, normal, 1 << 20}, true
}

// flatten lowers the ground under the panel so that nothing pokes through it.
func (s *site) flatten(p *panel) {
	reach := math.Hypot(p.halfU, p.halfV)
	for j := range s.ny {
		y := float64(s.y0 + float32(j)*s.cell)
		if math.Abs(y-p.at.y) > reach {
			continue
		}
		for i := range s.nx {
			x := float64(s.x0 + float32(i)*s.cell)
			if math.Abs(x-p.at.x) > reach {
				continue
			}
			// the point of the sheet straight above
			d := vec{x, y, 0}.minus(p.at)
			z := -(p.up.x*d.x + p.up.y*d.y) / p.up.z
			u, v, _ := p.local(vec{d.x, d.y, z})
			if math.Abs(u) > p.halfU+0.1 || math.Abs(v) > p.halfV+0.1 {
				continue
			}
			below := float32(p.at.z + z - p.thick)
			s.h[j*s.nx+i] = min(s.h[j*s.nx+i], below)
		}
	}
}

func (p *panel) shadow(at vec, toSun vec) float32 {
	return flatCaster{p.axes, p.halfU, p.halfV}.shadow(at, toSun)
}
