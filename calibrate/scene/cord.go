package scene

import "math"

// A cord is a round thing drawn as a line: a string, a knot, a frame's tube, a finger, a blade of grass.
type cord struct {
	at     []vec // along its axis
	radius float64
	taper  []float64 // its radius at each of them; nil: radius all along
	colour Colour
	twist  float64 // strength of the pattern of twisted cord
	gloss  float64 // strength of the sun's reflection in it
	unseen bool    // it throws its shadow but is not seen
	spans  []span
}

func (s *cord) radiusAt(n int) float64 {
	if s.taper == nil {
		return s.radius
	}
	return s.taper[n]
}

// A span is a straight piece of a cord in the photo.
type span struct {
	x, y, dx, dy   float64 // its start and its way, px
	depth, deeper  float64 // of its start, and by how much its end is deeper, cm
	wide, wider    float64 // half its width, px, and the change
	lit, litter    float32 // share of the sun that reaches its start, and how much more its end
	facing, aside  float64 // the sun's share of a surface that faces the eye, and what one turned to the right gets more
	up, upAside    float64 // the same for the height of the normal
	shine, shineA  float64 // the same for what lies half-way between the sun and the eye
	bulge          float64 // how much nearer than its axis its face is, cm
	alongCm, stepC float64 // from the cord's start
}

// farAside is how far to the side of the lens's axis things are drawn, as a share of the distance. A bent lens would fold
// what is farther aside back into the picture.
const farAside = 1.8

// aside is how far a place in front of the lens lies to the side of its axis, as a share of its depth.
func (e *eye) aside(p vec) float64 {
	d := p.minus(e.at)
	deep := e.forward.dot(d)
	return math.Sqrt(max(0, d.dot(d)/(deep*deep)-1))
}

// project works out where in the photo the cord is, and its light.
func (s *cord) project(v *view) {
	if s.unseen {
		return
	}
	along := 0.0
	var lit []float32
	for i, p := range s.at {
		lit = append(lit, v.sunAt(p, s.radiusAt(i)))
	}
	for i := 1; i < len(s.at); i++ {
		a, b := s.at[i-1], s.at[i]
		step := b.minus(a)
		long := math.Sqrt(step.dot(step))
		p, ok := v.eye.photo(a)
		q, ok2 := v.eye.photo(b)
		da, db := v.eye.forward.dot(a.minus(v.eye.at)), v.eye.forward.dot(b.minus(v.eye.at))
		if !ok || !ok2 || long == 0 || da < 1 || db < 1 || v.eye.aside(a) > farAside || v.eye.aside(b) > farAside {
			along += long
			continue
		}
		n := span{x: p.XPx, y: p.YPx, dx: q.XPx - p.XPx, dy: q.YPx - p.YPx, depth: da, deeper: db - da, alongCm: along, stepC: long}
		along += long
		if n.dx*n.dx+n.dy*n.dy < 1e-9 {
			continue
		}
		middle := a.plus(step.times(0.5))
		back := v.eye.at.minus(middle)
		side := step.cross(back)
		side = side.times(1 / math.Sqrt(side.dot(side)))
		front := side.cross(step).times(1 / long)
		if front.dot(back) < 0 {
			front = front.times(-1)
		}
		ra, rb := s.radiusAt(i-1), s.radiusAt(i)
		radius := max(1e-4, (ra+rb)/2)
		edge, ok := v.eye.photo(middle.plus(side.times(radius)))
		if !ok {
			continue
		}
		length := math.Hypot(n.dx, n.dy)
		ex, ey := edge.XPx-(n.x+n.dx/2), edge.YPx-(n.y+n.dy/2)
		right := (ex*n.dy - ey*n.dx) / length
		n.wide = math.Abs(right)
		if right < 0 {
			side = side.times(-1)
		}
		middleDepth := (da + db) / 2
		n.wide, n.wider = n.wide*ra/radius*middleDepth/da, n.wide*rb/radius*middleDepth/db
		n.wider -= n.wide
		n.bulge = -radius * front.dot(v.eye.forward)
		half := back.times(1 / math.Sqrt(back.dot(back))).plus(v.lamp.to)
		half = half.times(1 / math.Sqrt(half.dot(half)))
		n.shine, n.shineA = half.dot(front), half.dot(side)
		n.facing, n.aside = front.dot(v.lamp.to), side.dot(v.lamp.to)
		n.up, n.upAside = front.z, side.z
		n.lit, n.litter = lit[i-1], lit[i]-lit[i-1]
		s.spans = append(s.spans, n)
	}
}

// sunAt is the share of the sun that reaches the axis of a cord past the field and what stands over it.
func (v *view) sunAt(p vec, radius float64) float32 {
	dark := v.site.between(v.site.dark, float32(p.x), float32(p.y))
	lit := min(max(0.5-(dark-float32(p.z))/0.06, 0), 1)
	if lit > 0 {
		for _, c := range v.lamp.casters {
			if cords, ok := c.(*cordShade); ok {
				lit *= 1 - cords.beyond(p, v.lamp.to, 2*radius+0.5) // not itself, nor what touches it
			} else {
				lit *= 1 - c.shadow(p, v.lamp.to)
			}
		}
	}
	return lit
}

// light is the light of a cord at q of its half width to the right of its axis.
func (s *cord) light(v *view, n *span, q, t float64) (out [3]float32) {
	front := math.Sqrt(1 - q*q)
	lit := n.lit + float32(t)*n.litter
	// cord scatters light within it: its shaded side is not black
	facing := float32(max(0, 0.75*(n.facing*front+n.aside*q)+0.25)) * lit
	open := float32(0.6 + 0.4*(n.up*front+n.upAside*q))
	shade := float32(1)
	if s.twist > 0 {
		if lay := 5 * s.radius; 5*n.wide > 3 {
			shade += float32(s.twist * 0.35 * math.Sin(2*math.Pi*((n.alongCm+t*n.stepC)/lay+0.35*q)))
		}
	}
	glint := float32(0)
	if s.gloss > 0 {
		glint = float32(s.gloss*math.Pow(max(0, n.shine*front+n.shineA*q), 60)) * lit
	}
	for k := range out {
		out[k] = float32(s.colour[k])*shade*(v.lamp.sun[k]*facing+v.lamp.sky[k]*open+0.012) + v.lamp.sun[k]*glint
	}
	return out
}
