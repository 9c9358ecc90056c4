package scene

import "math"

// A strand is a round thing drawn as a line: a string, a knot, a tool's handle over the strings.
type strand struct {
	at     []vec // along its axis
	radius float64
	colour Colour
	twist  float64 // strength of the pattern of twisted cord
	spans  []span
}

// A span is a straight piece of a strand in the photo.
type span struct {
	x, y, dx, dy   float64 // its start and its way, px
	depth, deeper  float64 // of its start, and by how much its end is deeper, cm
	wide, wider    float64 // half its width, px, and the change
	lit            float32 // share of the sun that reaches it
	facing, aside  float64 // the sun's share of a surface that faces the eye, and what one turned to the right gets more
	up, upAside    float64 // the same for the height of the normal
	alongCm, stepC float64 // from the strand's start
}

// project works out where in the photo the strand is, and its light.
func (s *strand) project(v *view) {
	along := 0.0
	for i := 1; i < len(s.at); i++ {
		a, b := s.at[i-1], s.at[i]
		step := b.minus(a)
		long := math.Sqrt(step.dot(step))
		p, ok := v.eye.photo(a)
		q, ok2 := v.eye.photo(b)
		da, db := v.eye.forward.dot(a.minus(v.eye.at)), v.eye.forward.dot(b.minus(v.eye.at))
		if !ok || !ok2 || long == 0 || da < 1 || db < 1 {
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
		edge, ok := v.eye.photo(middle.plus(side.times(s.radius)))
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
		n.wider = -n.wide * (db - da) / (da + db) * 2
		n.wide -= n.wider / 2
		n.facing, n.aside = front.dot(v.lamp.to), side.dot(v.lamp.to)
		n.up, n.upAside = front.z, side.z
		n.lit = v.sunAt(middle)
		s.spans = append(s.spans, n)
	}
}

// sunAt is the share of the sun that reaches a place over the ground past the field and what stands over it.
func (v *view) sunAt(p vec) float32 {
	dark := v.site.between(v.site.dark, float32(p.x), float32(p.y))
	lit := min(max(0.5-(dark-float32(p.z))/0.06, 0), 1)
	if lit > 0 {
		for _, c := range v.lamp.casters {
			if _, strings := c.(*layout); !strings { // strings do not shade each other
				lit *= 1 - c.shadow(p, v.lamp.to)
			}
		}
	}
	return lit
}

// bucketRows is how many rows share a list of spans.
const bucketRows = 16

// piece names a span of a strand.
type piece struct{ strand, span int32 }

// sortStrands lists for each bucket of rows what is in it, strand by strand.
func (v *view) sortStrands() {
	v.pieces = make([][]piece, v.height/bucketRows+1)
	for i, s := range v.strands {
		for j, n := range s.spans {
			reach := n.wide + math.Abs(n.wider) + 1
			low, high := min(n.y, n.y+n.dy)-reach, max(n.y, n.y+n.dy)+reach
			if high < 0 || low > float64(v.height) || max(n.x, n.x+n.dx)+reach < 0 || min(n.x, n.x+n.dx)-reach > float64(v.width) {
				continue
			}
			for k := max(0, int(low)/bucketRows); k <= min(len(v.pieces)-1, int(high)/bucketRows); k++ {
				v.pieces[k] = append(v.pieces[k], piece{int32(i), int32(j)})
			}
		}
	}
}

// A cloth is what one strand covers of a row.
type cloth struct {
	cover []float32
	rgb   [][3]float32
	depth []float32
}

// string draws the strands over a finished row.
func (v *view) string(r *row, c *cloth, y int) {
	pieces := v.pieces[y/bucketRows]
	for from := 0; from < len(pieces); {
		to := from
		left, right := v.width, -1
		for ; to < len(pieces) && pieces[to].strand == pieces[from].strand; to++ {
			s := v.strands[pieces[to].strand]
			a, b := c.weave(v, s, &s.spans[pieces[to].span], y, r)
			left, right = min(left, a), max(right, b)
		}
		for x := left; x <= right; x++ {
			w := c.cover[x]
			if w == 0 {
				continue
			}
			c.cover[x] = 0
			for k := range 3 {
				r.rgb[3*x+k] += (c.rgb[x][k] - r.rgb[3*x+k]) * w
			}
			if w > 0.5 {
				r.depth[x] = c.depth[x]
			}
		}
		from = to
	}
}

// weave adds what a span covers of a row, and gives the pixels it may have touched.
func (c *cloth) weave(v *view, s *strand, n *span, y int, r *row) (left, right int) {
	length := math.Hypot(n.dx, n.dy)
	reach := n.wide + math.Abs(n.wider) + 0.8
	oy := float64(y) - n.y
	from, to := min(n.x, n.x+n.dx)-reach, max(n.x, n.x+n.dx)+reach
	if slope := math.Abs(n.dy) / length; slope > 1e-6 {
		middle := n.x + oy*n.dx/n.dy
		from, to = max(from, middle-reach/slope), min(to, middle+reach/slope)
	}
	left, right = max(0, int(math.Ceil(from))), min(v.width-1, int(math.Floor(to)))
	for x := left; x <= right; x++ {
		ox := float64(x) - n.x
		t := (ox*n.dx + oy*n.dy) / (length * length)
		if t < -reach/length || t > 1+reach/length {
			continue
		}
		side := (ox*n.dy - oy*n.dx) / length
		away := math.Abs(side)
		if t < 0 || t > 1 { // round the end of it
			beyond := max(-t, t-1) * length
			away = math.Hypot(side, beyond)
			t = min(max(t, 0), 1)
		}
		w := n.wide + t*n.wider
		cover := float32(min(away+w, 0.5) - max(away-w, -0.5))
		if cover <= c.cover[x] {
			continue
		}
		depth := float32(n.depth + t*n.deeper)
		if depth > r.depth[x]+0.05 {
			continue // behind the ground or a board
		}
		c.cover[x], c.depth[x] = cover, depth
		c.rgb[x] = s.light(v, n, min(max(side/w, -1), 1), t)
	}
	return left, right
}

// light is the light of a strand at q of its half width to the right of its axis.
func (s *strand) light(v *view, n *span, q, t float64) (out [3]float32) {
	front := math.Sqrt(1 - q*q)
	// cord scatters light within it: its shaded side is not black
	facing := float32(max(0, 0.75*(n.facing*front+n.aside*q)+0.25)) * n.lit
	open := float32(0.6 + 0.4*(n.up*front+n.upAside*q))
	shade := float32(1)
	if s.twist > 0 {
		if lay := 5 * s.radius; lay*n.wide/s.radius > 3 {
			shade += float32(s.twist * 0.35 * math.Sin(2*math.Pi*((n.alongCm+t*n.stepC)/lay+0.35*q)))
		}
	}
	for k := range out {
		out[k] = float32(s.colour[k]) * shade * (v.lamp.sun[k]*facing + v.lamp.sky[k]*open + 0.012)
	}
	return out
}
