//go:build cgo

package vision

import (
	"math"
	"slices"
)

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
