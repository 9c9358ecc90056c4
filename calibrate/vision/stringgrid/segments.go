package stringgrid

import "math"

// A Segment is a straight piece of a line in the reduced picture, in its
// pixels: middle, unit direction, half its length, and how much it counts.
type Segment struct {
	x, y, dx, dy float64
	half, width  float64
	weight       float64
	z            float64 // strength, in units of the picture's noise
	kind         ridgeKind
	follows      float64 // of a darker one, see follow
}

// What a segment must have: length in px, length over width, and how far, in
// degrees, a pixel's direction may stray from the segment's.
const (
	minSegmentPx    = 14
	minGroup        = 10 // pixels
	minSlenderness  = 3.5
	segmentStrayDeg = 18
	maxRidgeZ       = 15 // a stronger line is no surer
)

var cosTwice, sinTwice = func() (c, s [180]float32) {
	for i := range c {
		s64, c64 := math.Sincos(float64(i) * math.Pi / 90)
		c[i], s[i] = float32(c64), float32(s64)
	}
	return c, s
}()

// Segments gives the straight pieces of all kinds of lines. light is the
// lightness of the logarithmic picture, slightly blurred. It uses the maps up.
func (m Ridges) Segments(light []float32) (segs []Segment) {
	for _, one := range []*ridgeMap{m.light, m.dark, m.colour} {
		segs = append(segs, one.segments(minSegmentPx)...)
	}
	for i := range segs {
		if segs[i].kind == darker {
			segs[i].follows = segs[i].follow(light, m.light.width, m.light.height)
		}
	}
	return segs
}

// segments joins neighbouring pixels of one direction and takes each group's
// moments. Groups break at crossings, where no direction rules, so they are
// short and a lens that bends does no harm. leastPx is the least length. It
// uses the map's kinds up.
func (m *ridgeMap) segments(leastPx float64) []Segment {
	var out []Segment
	w := m.width
	stray := float32(math.Cos(2 * segmentStrayDeg * math.Pi / 180))
	var group []int32
	for start, kind := range m.kind {
		if kind == noRidge {
			continue
		}
		group = append(group[:0], int32(start))
		m.kind[start] = noRidge
		c, s := cosTwice[m.deg[start]], sinTwice[m.deg[start]]
		for next := 0; next < len(group); next++ {
			at := int(group[next])
			least := stray * float32(math.Sqrt(float64(c*c+s*s)))
			for _, step := range [8]int{-w - 1, -w, -w + 1, -1, 1, w - 1, w, w + 1} {
				// Ridges never touch the picture's border, so no step leaves it.
				to := at + step
				if m.kind[to] != kind {
					continue
				}
				d := m.deg[to]
				if cosTwice[d]*c+sinTwice[d]*s < least {
					continue
				}
				m.kind[to] = noRidge
				c, s = c+cosTwice[d], s+sinTwice[d]
				group = append(group, int32(to))
			}
		}
		if seg, ok := m.moments(group, leastPx); ok {
			seg.kind = kind
			out = append(out, seg)
		}
	}
	return out
}

// moments is the line through a group of pixels; false if it is too short or thick.
func (m *ridgeMap) moments(group []int32, leastPx float64) (Segment, bool) {
	if len(group) < minGroup {
		return Segment{}, false
	}
	var sw, sx, sy, sz float64 // sw: of the strength itself, sz: of what counts of it
	for _, p := range group {
		x, y, z := float64(int(p)%m.width), float64(int(p)/m.width), float64(m.z[p])
		sw, sx, sy, sz = sw+z, sx+z*x, sy+z*y, sz+min(z, maxRidgeZ)
	}
	mx, my := sx/sw, sy/sw
	var xx, xy, yy float64
	for _, p := range group {
		x, y, z := float64(int(p)%m.width)-mx, float64(int(p)/m.width)-my, float64(m.z[p])
		xx, xy, yy = xx+z*x*x/sw, xy+z*x*y/sw, yy+z*y*y/sw
	}
	root := math.Hypot(xx-yy, 2*xy)
	large, small := (xx+yy+root)/2, max(0, (xx+yy-root)/2)
	length, width := math.Sqrt(12*large), math.Sqrt(12*small)
	if length < leastPx || length < minSlenderness*width {
		return Segment{}, false
	}
	sin, cos := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	return Segment{x: mx, y: my, dx: cos, dy: sin, half: length / 2, width: width, weight: length * sz / float64(len(group)), z: sw / float64(len(group))}, true
}
