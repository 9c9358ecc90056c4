package scene

import "math"

// bucketRows is how many rows share a list of spans.
const bucketRows = 16

// piece names a span of a cord.
type piece struct{ cord, span int32 }

// sortCords lists for each bucket of rows what is in it, cord by cord.
func (v *view) sortCords() {
	v.pieces = make([][]piece, v.height/bucketRows+1)
	for i, s := range v.cords {
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

// A thread is what one cord covers of a pixel.
type thread struct {
	cover, depth float32
	rgb          [3]float32
	cord         int32
	next         int32 // the one that lies over it; -1: none
}

// A cloth is what the cords cover of a row: each pixel's threads from the farthest to the nearest.
type cloth struct {
	first   []int32 // by pixel; -1: none
	threads []thread
	left    int // the pixels that may have some
	right   int
}

func newCloth(width int) *cloth {
	c := &cloth{first: make([]int32, width), left: width, right: -1}
	for i := range c.first {
		c.first[i] = -1
	}
	return c
}

// drawCords draws the cords over a finished row.
func (v *view) drawCords(r *row, c *cloth, y int) {
	for _, p := range v.pieces[y/bucketRows] {
		s := v.cords[p.cord]
		c.weave(v, s, &s.spans[p.span], p.cord, y, r)
	}
	for x := c.left; x <= c.right; x++ {
		for n := c.first[x]; n >= 0; n = c.threads[n].next {
			t := &c.threads[n]
			for k := range 3 {
				r.rgb[3*x+k] += (t.rgb[k] - r.rgb[3*x+k]) * t.cover
			}
		}
		c.first[x] = -1
	}
	c.threads, c.left, c.right = c.threads[:0], v.width, -1
}

// overCm is how much nearer a cord must be to lie over another that is drawn after it.
const overCm = 0.02

// cover adds a thread to a pixel. Of one cord's only the widest counts.
func (c *cloth) cover(x int, t thread) {
	at := &c.first[x]
	for n := *at; n >= 0; n = c.threads[n].next {
		if o := &c.threads[n]; o.cord == t.cord {
			if t.cover > o.cover {
				o.cover, o.depth, o.rgb = t.cover, t.depth, t.rgb
			}
			return
		}
	}
	for *at >= 0 && c.threads[*at].depth > t.depth-overCm {
		at = &c.threads[*at].next
	}
	t.next = *at
	*at = int32(len(c.threads))
	c.threads = append(c.threads, t)
	c.left, c.right = min(c.left, x), max(c.right, x)
}

// weave adds what a span covers of a row.
func (c *cloth) weave(v *view, s *cord, n *span, cord int32, y int, r *row) {
	length := math.Hypot(n.dx, n.dy)
	reach := n.wide + math.Abs(n.wider) + 0.8
	oy := float64(y) - n.y
	from, to := min(n.x, n.x+n.dx)-reach, max(n.x, n.x+n.dx)+reach
	if slope := math.Abs(n.dy) / length; slope > 1e-6 {
		middle := n.x + oy*n.dx/n.dy
		from, to = max(from, middle-reach/slope), min(to, middle+reach/slope)
	}
	for x := max(0, int(math.Ceil(from))); x <= min(v.width-1, int(math.Floor(to))); x++ {
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
		if cover <= 0 {
			continue
		}
		q := min(max(side/w, -1), 1)
		depth := float32(n.depth + t*n.deeper - n.bulge*math.Sqrt(1-q*q))
		if depth > r.depth[x]+0.05 {
			continue // behind the ground or a board
		}
		c.cover(x, thread{cover: cover, depth: depth, rgb: s.light(v, n, q, t), cord: cord})
	}
}
