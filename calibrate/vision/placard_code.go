//go:build cgo

package vision

import (
	"cmp"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/placard"
)

// The sizes of codes that are read, in modules: versions 2 to 7 of ISO/IEC
// 18004. These have one small square near the fourth corner, but for the last,
// which has more.
const leastModules, mostModules = 25, 45

// mostTries is how many threesomes that may be a code's are tried in one
// reduction, so that a picture full of squares does not take for ever.
const mostTries = 40

// A codeSeen is a jacket's code in a picture.
type codeSeen struct {
	number  string
	corners [4]place // of the code, clockwise from its upper left
}

// A threesome is a code's finder patterns: upper left, upper right, lower
// left. One may be nil: it was not seen.
type threesome [3]*finderPattern

// codes reads the codes whose three finder patterns, or two of them, are among
// those given.
func (r greyRaster) codes(patterns []finderPattern, camera calibrate.Camera) (seen []codeSeen) {
	used := map[*finderPattern]bool{}
	left := mostTries
	try := func(three threesome) {
		if left == 0 {
			return
		}
		for i, p := range three {
			if p != nil && (used[p] || p == three[(i+1)%3]) {
				return
			}
		}
		u, v, modulePx, ok := three.directions()
		if !ok {
			return
		}
		left--
		if c, ok := r.code(three, u, v, modulePx, camera); ok {
			seen = append(seen, c)
			for _, p := range three {
				used[p] = true
			}
		}
	}
	for i := range patterns {
		for j := range patterns {
			for k := range patterns {
				try(threesome{&patterns[i], &patterns[j], &patterns[k]})
			}
		}
	}
	for i := range patterns {
		for j := range patterns {
			try(threesome{&patterns[i], &patterns[j], nil})
			try(threesome{&patterns[i], nil, &patterns[j]})
			try(threesome{nil, &patterns[i], &patterns[j]})
		}
	}
	return seen
}

// directions are those of a code's rows and columns, one after the other
// clockwise, as long as from one pattern's middle to the next; modulePx the
// patterns' own module. ok is false where the patterns are not of one code, or
// of one seen from behind.
func (three threesome) directions() (u, v place, modulePx float64, ok bool) {
	var sizes []float64
	for _, p := range three {
		if p != nil {
			sizes = append(sizes, p.modules)
		}
	}
	modulePx = (slices.Max(sizes) + slices.Min(sizes)) / 2
	if slices.Max(sizes) > 2*slices.Min(sizes) {
		return u, v, modulePx, false
	}
	origin, right, below := three[0], three[1], three[2]
	switch {
	case origin == nil: // of the core's sides that lead from right to below one runs down, the other back along the row
		d := below.core.centre.minus(right.core.centre)
		for _, s := range right.sides() {
			if s.dot(d) > 0 && d.cross(s) < 0 {
				v = s
			} else if s.dot(d) > 0 {
				u = s.times(-1)
			}
		}
		n := d.size() / math.Max(1e-9, v.minus(u).size())
		u, v = u.times(n), v.times(n)
	case right == nil:
		v = below.core.centre.minus(origin.core.centre)
		u = origin.across(v, -1)
	case below == nil:
		u = right.core.centre.minus(origin.core.centre)
		v = origin.across(u, 1)
	default:
		u, v = right.core.centre.minus(origin.core.centre), below.core.centre.minus(origin.core.centre)
	}
	ok = u.cross(v) > 0.3*u.size()*v.size() && max(u.size(), v.size()) <= 3*min(u.size(), v.size())
	for _, p := range three {
		ok = ok && (p == nil || p.aligned(u) && p.aligned(v))
	}
	return u, v, modulePx, ok
}

// aligned tells whether a side of the core runs in a direction, within 26
// degrees.
func (p *finderPattern) aligned(along place) bool {
	for _, s := range p.sides() {
		if s.dot(along) > 0.9*s.size()*along.size() {
			return true
		}
	}
	return false
}

// sides are the four sides of a pattern's core.
func (p *finderPattern) sides() (s [4]place) {
	for i, c := range p.core.corner {
		s[i] = p.core.corner[(i+1)%4].minus(c)
	}
	return s
}

// across is the side of the core that lies across a direction, turn 1
// clockwise of it and -1 the other way, as many times as the direction has it.
func (p *finderPattern) across(along place, turn float64) (best place) {
	n, most := 0.0, 0.0
	for _, s := range p.sides() {
		if c := turn * along.cross(s); c > most {
			most, best = c, s
		}
		n = max(n, s.dot(along)/max(1e-9, s.size()*s.size()))
	}
	return best.times(n)
}

// code reads the code of which the patterns are.
func (r greyRaster) code(three threesome, u, v place, modulePx float64, camera calibrate.Camera) (seen codeSeen, ok bool) {
	type try struct {
		modules int
		plane   *calibrate.Plane
	}
	var tries []try
	// How many modules lie between the patterns' middles, by their own size: all counts near it are tried.
	apart := (u.size() + v.size()) / 2 / modulePx
	for modules := leastModules; modules <= mostModules; modules += 4 {
		if ratio := float64(modules-7) / apart; ratio < 0.55 || ratio > 1.6 {
			continue
		}
		if plane, ok := r.codePlane(three, u, v, float64(modules), camera); ok && plane.RMSPx < 0.35*modulePx {
			tries = append(tries, try{modules, plane})
		}
	}
	slices.SortStableFunc(tries, func(a, b try) int { return cmp.Compare(a.plane.RMSPx, b.plane.RMSPx) })
	for _, t := range tries[:min(len(tries), 3)] {
		m, ok := mappingOf(t.plane)
		if !ok {
			continue
		}
		if seen, ok = r.codeAt(m, t.modules); ok {
			return seen, true
		}
	}
	return seen, false
}

// codeAt reads the code whose modules a mapping tells.
func (r greyRaster) codeAt(m mapping, modules int) (seen codeSeen, ok bool) {
	levels, ok := r.levels(m, modules)
	if !ok {
		return seen, false
	}
	for _, dark := range darkened(levels) {
		number, ok := placard.Decode(dark)
		if !ok {
			continue
		}
		seen.number = number
		n := float64(modules)
		for i, c := range [4][2]float64{{0, 0}, {n, 0}, {n, n}, {0, n}} {
			if seen.corners[i], ok = m(c[0], c[1]); !ok {
				return seen, false
			}
		}
		return seen, true
	}
	return seen, false
}
