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
// 18004.
const leastModules, mostModules = 25, 45

// A codeSeen is a jacket's code in a picture.
type codeSeen struct {
	number  string
	corners [4]place // of the code, clockwise from its upper left
}

// codes reads the codes whose three finder patterns are among those given.
func (r greyRaster) codes(patterns []finderPattern, camera calibrate.Camera) (seen []codeSeen) {
	used := make([]bool, len(patterns))
	for i := range patterns {
		for j := range patterns {
			for k := range patterns {
				if i == j || j == k || i == k || used[i] || used[j] || used[k] {
					continue
				}
				if c, ok := r.code(patterns[i], patterns[j], patterns[k], camera); ok {
					seen = append(seen, c)
					used[i], used[j], used[k] = true, true, true
				}
			}
		}
	}
	return seen
}

// code reads the code of which three patterns are the upper left, upper right
// and lower left; ok is false where they are not of one code. Seen from
// behind, as in a mirror, none is.
func (r greyRaster) code(origin, right, below finderPattern, camera calibrate.Camera) (seen codeSeen, ok bool) {
	alike := []float64{origin.modules, right.modules, below.modules}
	u, v := right.core.centre.minus(origin.core.centre), below.core.centre.minus(origin.core.centre)
	if slices.Max(alike) > 2*slices.Min(alike) || u.cross(v) <= 0.3*u.size()*v.size() || max(u.size(), v.size()) > 3*min(u.size(), v.size()) {
		return seen, false
	}
	// How many modules lie between the patterns' middles, by their own size: all counts near it are tried.
	apart := (u.size() + v.size()) / 2 / (slices.Max(alike) + slices.Min(alike)) * 2
	type try struct {
		modules int
		plane   *calibrate.Plane
	}
	var tries []try
	for modules := leastModules; modules <= mostModules; modules += 4 {
		if ratio := float64(modules-7) / apart; ratio < 0.55 || ratio > 1.6 {
			continue
		}
		if plane, ok := codePlane(origin, right, below, float64(modules), camera); ok && plane.RMSPx < 0.35*slices.Max(alike) {
			tries = append(tries, try{modules, plane})
		}
	}
	slices.SortStableFunc(tries, func(a, b try) int { return cmp.Compare(a.plane.RMSPx, b.plane.RMSPx) })
	for _, t := range tries[:min(len(tries), 3)] {
		m, ok := mappingOf(t.plane)
		if !ok {
			continue
		}
		levels, ok := r.levels(m, t.modules)
		if !ok {
			continue
		}
		for _, dark := range darkened(levels) {
			number, ok := placard.Decode(dark)
			if !ok {
				continue
			}
			seen.number = number
			n := float64(t.modules)
			for i, c := range [4][2]float64{{0, 0}, {n, 0}, {n, n}, {0, n}} {
				if seen.corners[i], ok = m(c[0], c[1]); !ok {
					return seen, false
				}
			}
			return seen, true
		}
	}
	return seen, false
}

// codePlane fits a code's plane, in modules, to the cores' corners.
func codePlane(origin, right, below finderPattern, modules float64, camera calibrate.Camera) (*calibrate.Plane, bool) {
	u, v := right.core.centre.minus(origin.core.centre), below.core.centre.minus(origin.core.centre)
	var marks []calibrate.Mark
	for i, p := range []finderPattern{origin, right, below} {
		t, row := 2.0, 2.0
		switch i {
		case 1:
			t += modules - 7
		case 2:
			row += modules - 7
		}
		// The core's first corner is the one that lies farthest against both directions.
		first := 0
		least := math.Inf(1)
		for k, c := range p.core.corner {
			d := c.minus(p.core.centre)
			if far := d.dot(u)/u.size() + d.dot(v)/v.size(); far < least {
				least, first = far, k
			}
		}
		for k, o := range [4][2]float64{{0, 0}, {3, 0}, {3, 3}, {0, 3}} {
			c := p.core.corner[(first+k)%4]
			marks = append(marks, calibrate.Mark{At: calibrate.Point{XPx: c.x, YPx: c.y}, UCm: t + o[0], VCm: row + o[1]})
		}
	}
	p, _, err := calibrate.Fit(calibrate.Reference{}, camera, marks, calibrate.FitOptions{FloorPx: 0.3, Rounds: 2})
	return p, err == nil
}

// levels are the greys of a code's modules, row by row.
func (r greyRaster) levels(m mapping, modules int) ([][]float64, bool) {
	rows := make([][]float64, modules)
	for row := range rows {
		rows[row] = make([]float64, modules)
		for t := range rows[row] {
			g, ok := r.level(m, float64(t), float64(row))
			if !ok {
				return nil, false
			}
			rows[row][t] = g
		}
	}
	return rows, true
}

// darkened tells in several ways which modules are dark; what a code says is
// believed by its check character, so that no way can do harm: by one level
// for the whole code, where white in the shade is still lighter than black in
// the sun, and by levels between the darkest and the lightest near each module.
func darkened(levels [][]float64) (ways [][][]bool) {
	n := len(levels)
	var all []float64
	for _, row := range levels {
		all = append(all, row...)
	}
	slices.Sort(all)
	lo, hi := all[len(all)/50], all[len(all)-1-len(all)/50]
	way := func(limit func(t, row int) float64) {
		dark := make([][]bool, n)
		for row := range dark {
			dark[row] = make([]bool, n)
			for t := range dark[row] {
				dark[row][t] = levels[row][t] < limit(t, row)
			}
		}
		ways = append(ways, dark)
	}
	near := func(t, row, reach int) (least, most float64) {
		least, most = math.Inf(1), math.Inf(-1)
		for y := max(0, row-reach); y <= min(n-1, row+reach); y++ {
			for x := max(0, t-reach); x <= min(n-1, t+reach); x++ {
				least, most = min(least, levels[y][x]), max(most, levels[y][x])
			}
		}
		return least, most
	}
	for _, reach := range []int{3, 5, 2} {
		way(func(t, row int) float64 { least, most := near(t, row, reach); return (least + most) / 2 })
	}
	for _, part := range []float64{0.5, 0.35, 0.25, 0.6} {
		way(func(int, int) float64 { return lo + part*(hi-lo) })
	}
	for _, reach := range []int{2, 4} {
		way(func(t, row int) float64 { least, _ := near(t, row, reach); return 1.7*least + 4 })
	}
	return ways
}
