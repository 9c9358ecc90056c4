//go:build cgo

package vision

import (
	"cmp"
	"math"
	"slices"
)

// A finderPattern is one of the three large squares of a QR code (ISO/IEC
// 18004): a dark square of 3 x 3 modules within a light ring and a dark one.
type finderPattern struct {
	core    quad    // in the full picture
	modules float64 // px of a module
	good    int     // places that look as they should
}

// How much of a pattern must look like one: of twelve profiles from its core
// outwards, three over each side.
const (
	patternProfiles = 12
	leastProfiles   = 9
	mostPatterns    = 12 // of a picture that are tried with each other, the best
	patternRatio    = 2.4
	patternStep     = 0.75 // dark over the light beside it
)

// patterns finds the finder patterns among the dark patches of one reduction.
func (r greyRaster) patterns(quads []quad, factor float64) []finderPattern {
	var found []finderPattern
	for _, q := range quads {
		for i := range q.corner {
			q.corner[i] = fullPx(q.corner[i], factor)
		}
		q.centre = fullPx(q.centre, factor)
		along, across := q.sides()
		a, b := along.size(), across.size()
		if max(a, b) > patternRatio*min(a, b) {
			continue
		}
		p := finderPattern{core: q, modules: math.Sqrt(a*b) / 3, good: r.profiles(evenly(q))}
		if p.good < patternProfiles {
			p.good = max(p.good, r.profiles(squareOf(q)))
		}
		if p.good >= leastProfiles {
			found = append(found, p)
		}
	}
	slices.SortStableFunc(found, func(a, b finderPattern) int { return cmp.Compare(b.good, a.good) })
	var apart []finderPattern
	for _, p := range found {
		if !slices.ContainsFunc(apart, func(o finderPattern) bool { return o.core.centre.minus(p.core.centre).size() < 3*o.modules }) {
			apart = append(apart, p)
		}
	}
	return apart[:min(len(apart), mostPatterns)]
}

// evenly maps the modules of a finder pattern by its core's middle and mean
// sides: of a core of a few pixels the corners, half a pixel off, would tell a
// perspective that is not there.
func evenly(q quad) mapping {
	along, across := q.sides()
	return func(u, v float64) (place, bool) {
		return q.centre.plus(along.times((u - 3.5) / 3)).plus(across.times((v - 3.5) / 3)), true
	}
}

// squareOf maps the modules of a finder pattern by the corners of its core,
// which lie at 2 and 5: of a large one, seen at a slant. Four corners fix a
// homography (Heckbert, Fundamentals of Texture Mapping and Image Warping,
// Berkeley 1989, section 2.2.3); every dark patch is tried, so no fit is made.
func squareOf(q quad) mapping {
	a, b, c, d := q.corner[0], q.corner[1], q.corner[2], q.corner[3]
	along, across, skew := b.minus(c), d.minus(c), a.minus(b).plus(c.minus(d))
	det := along.cross(across)
	g, h := skew.cross(across)/det, along.cross(skew)/det
	e, f := b.times(1+g).minus(a), d.times(1+h).minus(a)
	return func(u, v float64) (place, bool) {
		u, v = (u-2)/3, (v-2)/3
		w := 1 + g*u + h*v
		return a.plus(e.times(u)).plus(f.times(v)).times(1 / w), w > 1e-9 // not where the corners fix nothing
	}
}

// profiles counts the profiles outwards over the core's sides that go dark,
// light, dark, light.
func (r greyRaster) profiles(m mapping) (good int) {
	for side := range 4 {
		for _, along := range []float64{2.5, 3.5, 4.5} {
			var g [4]float64
			whole := true
			for i, out := range []float64{4.2, 5.5, 6.5, 7.5} {
				u, v := out, along
				switch side {
				case 1:
					u, v = 7-out, along
				case 2:
					u, v = along, out
				case 3:
					u, v = along, 7-out
				}
				at, ok := m(u, v)
				var in bool
				g[i], in = r.at(at)
				whole = whole && ok && in
			}
			if whole && g[0] < patternStep*g[1] && g[2] < patternStep*g[1] && g[2] < patternStep*g[3] {
				good++
			}
		}
	}
	return good
}
