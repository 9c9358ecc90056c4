package vision

import (
	"math"
	"slices"
)

// A place is a point in px of whichever picture is spoken of.
type place struct{ x, y float64 }

func (a place) minus(b place) place        { return place{a.x - b.x, a.y - b.y} }
func (a place) plus(b place) place         { return place{a.x + b.x, a.y + b.y} }
func (a place) times(f float64) place      { return place{a.x * f, a.y * f} }
func (a place) cross(b place) float64      { return a.x*b.y - a.y*b.x }
func (a place) dot(b place) float64        { return a.x*b.x + a.y*b.y }
func (a place) size() float64              { return math.Hypot(a.x, a.y) }
func along(a, b place, part float64) place { return a.plus(b.minus(a).times(part)) }

// fullPx takes a place of a picture reduced by factor to the full picture.
func fullPx(p place, factor float64) place {
	return place{factor*(p.x+0.5) - 0.5, factor*(p.y+0.5) - 0.5}
}

// A quad is a dark patch with four straight sides.
type quad struct {
	corner [4]place // clockwise as seen
	centre place
	area   float64
}

// sides are the mean vectors along and across, the second clockwise of the first.
func (q quad) sides() (e, g place) {
	c := q.corner
	return c[1].minus(c[0]).plus(c[2].minus(c[3])).times(0.5), c[3].minus(c[0]).plus(c[2].minus(c[1])).times(0.5)
}

// What a dark patch must be like to pass for a block.
const (
	minBlockPx    = 5    // each side of its upright box
	minBlockArea  = 25   // px
	maxBlockShare = 0.25 // of the picture's long side
	minFill       = 0.82 // of its convex hull, and of its quad
	maxBlockSkew  = 1.6  // one side over the opposite one
	maxBlockRatio = 6.0  // long side over short
)

// quadOf finds the quad of a patch from its convex hull and area in px; false
// where it is not shaped like a block.
func quadOf(hull []place, area float64) (quad, bool) {
	if len(hull) < 4 {
		return quad{}, false
	}
	rim := math.Sqrt(area) // what pixels along the sides may add or take
	if area < minFill*polygonArea(hull)-rim {
		return quad{}, false
	}
	four, ok := fourSided(hull)
	if !ok {
		return quad{}, false
	}
	q := quad{corner: four, area: polygonArea(four[:])}
	if area < minFill*q.area-rim {
		return quad{}, false
	}
	var side [4]float64
	for i := range 4 {
		q.centre = q.centre.plus(four[i].times(0.25))
		side[i] = four[(i+1)%4].minus(four[i]).size()
	}
	for i := range 2 {
		if max(side[i], side[i+2]) > maxBlockSkew*min(side[i], side[i+2]) {
			return quad{}, false
		}
	}
	a, b := side[0]+side[2], side[1]+side[3]
	return q, max(a, b) <= maxBlockRatio*min(a, b)
}

// hullOf writes into hull[:0] the convex hull of a patch's rows, which follow on each other,
// clockwise as seen (y down) from its leftmost corner, by Andrew's monotone chain
// (Information Processing Letters 9(5), 1979) down the right side and up the
// left. Each pixel is taken as a diamond: a square one would make turned blocks
// half a pixel too large on every side.
func hullOf(hull []place, rows []stretch) []place {
	hull = hull[:0]
	from := 0
	add := func(x, y float64) {
		p := place{x, y}
		for len(hull) >= from+2 && hull[len(hull)-1].minus(hull[len(hull)-2]).cross(p.minus(hull[len(hull)-1])) <= 0 {
			hull = hull[:len(hull)-1]
		}
		if len(hull) == 0 || hull[len(hull)-1] != p {
			hull = append(hull, p)
		}
	}
	first, last := rows[0], rows[len(rows)-1]
	add(float64(first.x0), float64(first.y)-0.5)
	for i, r := range rows {
		end := r.x1 - 1
		if i > 0 {
			end = max(end, rows[i-1].x1-1)
		}
		add(float64(end), float64(r.y)-0.5)
		add(float64(r.x1)-0.5, float64(r.y))
	}
	add(float64(last.x1-1), float64(last.y)+0.5)
	from = len(hull) - 1
	add(float64(last.x0), float64(last.y)+0.5)
	for i := len(rows) - 1; i >= 0; i-- {
		r := rows[i]
		end := r.x0
		if i > 0 {
			end = min(end, rows[i-1].x0)
		}
		add(float64(r.x0)-0.5, float64(r.y))
		add(float64(end), float64(r.y)-0.5)
	}
	if hull[len(hull)-1] == hull[0] {
		hull = hull[:len(hull)-1]
	}
	left := 0
	for i, p := range hull {
		if q := hull[left]; p.x < q.x || p.x == q.x && p.y < q.y {
			left = i
		}
	}
	slices.Reverse(hull[:left]) // turned in place
	slices.Reverse(hull[left:])
	slices.Reverse(hull)
	return hull
}

// polygonArea is the area of a polygon, positive when clockwise as seen.
func polygonArea(p []place) (area float64) {
	for i := range p {
		area += p[i].cross(p[(i+1)%len(p)]) / 2
	}
	return area
}

// fourSided prolongs sides of a convex polygon until four are left, each time
// dropping the side whose loss adds the least area.
func fourSided(hull []place) (four [4]place, ok bool) {
	p := slices.Clone(hull)
	for len(p) > 4 {
		best, at, tip := math.Inf(1), -1, place{}
		for i := range p {
			n := len(p)
			a, b, c, d := p[(i+n-1)%n], p[i], p[(i+1)%n], p[(i+2)%n]
			q, meets := prolong(a, b, d, c)
			if !meets {
				continue
			}
			if added := b.minus(c).cross(q.minus(c)) / 2; math.Abs(added) < best {
				best, at, tip = math.Abs(added), i, q
			}
		}
		if at < 0 {
			return four, false
		}
		p[at] = tip
		p = slices.Delete(p, (at+1)%len(p), (at+1)%len(p)+1)
	}
	copy(four[:], p)
	return four, len(p) == 4
}

// prolong is where the ray from a through b meets the one from d through c,
// beyond b and c.
func prolong(a, b, d, c place) (place, bool) {
	e, f := b.minus(a), c.minus(d)
	det := e.cross(f)
	if math.Abs(det) < 1e-9*(e.size()*f.size()+1e-12) {
		return place{}, false
	}
	t := c.minus(b).cross(f) / det
	s := c.minus(b).cross(e) / det
	return b.plus(e.times(t)), t >= 0 && s >= 0
}
