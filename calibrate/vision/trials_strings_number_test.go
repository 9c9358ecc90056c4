//go:build cgo && trials

package vision

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// A numbering is what became of a frame's strings by their true places: how many lines were counted that lie at none of them, how
// many strings have a number that is not their own, the first string of each way being 1 or the first that was found, and how many of
// the outermost are not counted.
type numbering struct{ beyond, shifted, short int }

// besideString is how far a line may lie off its string's true place, in cells.
const besideString = 0.35

// numbered holds the numbers of lines against the strings' true places.
func numbered(grid scene.Plane, marks []calibrate.Mark) (out numbering) {
	lines := map[int][]calibrate.Mark{} // by number, with those of one way from 1, of the other from 1001
	for _, m := range marks {
		lines[m.Line] = append(lines[m.Line], m)
	}
	for family := range 2 {
		var numbers, at []int
		across := 0
		for n, way := range lines {
			if n/1000 != family {
				continue
			}
			strung, place := stringAt(grid, way)
			across = grid.Cells[strung]
			if number := math.Round(place); number < 0 || number > float64(across) || math.Abs(place-number) > besideString {
				out.beyond++
			} else {
				numbers, at = append(numbers, n), append(at, int(number))
			}
		}
		if len(numbers) < 2 {
			continue
		}
		first, last := slices.Index(numbers, slices.Min(numbers)), slices.Index(numbers, slices.Max(numbers))
		step := 1
		if at[last] < at[first] {
			step = -1
		}
		for i := range numbers {
			if at[i]-at[first] != step*(numbers[i]-numbers[first]) {
				out.shifted++
			}
		}
		out.short += across - (slices.Max(at) - slices.Min(at))
	}
	return out
}

// stringAt is which way a line runs, 0 along the frame's first family of strings, and its place among them, in cells from the first.
func stringAt(grid scene.Plane, marks []calibrate.Mark) (family int, place float64) {
	var all [2][]float64
	pitch := grid.Reference.PitchCm
	for _, m := range marks {
		u, v, ok := grid.Cm(m.At, 0)
		if !ok {
			continue
		}
		u -= v * math.Tan(grid.RackDeg*math.Pi/180)
		all[0], all[1] = append(all[0], u/pitch+float64(grid.Cells[0])/2), append(all[1], v/pitch+float64(grid.Cells[1])/2)
	}
	if len(all[0]) == 0 {
		return 0, math.NaN()
	}
	for k := range all {
		slices.Sort(all[k])
	}
	if across := all[0][len(all[0])-1] - all[0][0]; across > all[1][len(all[1])-1]-all[1][0] {
		family = 1
	}
	return family, all[family][len(all[family])/2]
}
