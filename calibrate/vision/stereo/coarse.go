package stereo

import (
	"math"
	"slices"
)

// What a coarse level is read with.
const (
	goodNCC   = 0.5  // correlation from which on a window counts
	clearNCC  = 0.06 // by how much it must exceed the second peak
	secondOff = 3    // steps from the best peak on which another is a second one
)

// A field is the best level of each block of a lattice.
type field struct {
	lattice
	below []float64 // cm
	ncc   []float32 // of it; 0: nothing was seen
	clear []bool    // NCC is good, no second peak is near, and the best is not at the range's end
	seen  []bool    // enough px of the window are in both pictures at some level
	step  float64   // cm between levels
}

// sweep reads the best level of each window of blocks between two depths.
// reach is how many blocks a window takes each way, stepPx how far what is
// seen moves from level to level.
func sweep(l lattice, first, second *drawer, from, to, stepPx float64, reach int) field {
	n := l.cols * l.rows
	f := field{lattice: l, below: make([]float64, n), ncc: make([]float32, n), clear: make([]bool, n), seen: make([]bool, n)}
	f.step = l.stepCm(&first.camera, &second.camera, (from+to)/2, stepPx)
	levels := int((to-from)/f.step) + 1
	if levels < 2*secondOff || levels > 2000 {
		return f
	}
	drawn, row := first.draw(&l, &first.camera, 0), make([]float32, l.w)
	all, spare := make([]sums, n), make([]sums, n)
	side := (2*reach + 1) * l.block
	least := 0.4 * float32(side*side)
	volume := make([]float32, n*levels)
	for k := range levels {
		second.blockSums(&l, first, drawn, from+float64(k)*f.step, row, all)
		windows(l.cols, l.rows, reach, all, spare)
		for i := range all {
			ncc, ok := all[i].ncc(least)
			volume[i*levels+k] = ncc
			f.seen[i] = f.seen[i] || ok
		}
	}
	for i := range n {
		f.read(i, volume[i*levels:(i+1)*levels], from)
	}
	return f
}

// read finds a block's best level.
func (f *field) read(i int, by []float32, from float64) {
	best := 0
	for k, v := range by {
		if v > by[best] {
			best = k
		}
	}
	second := float32(0)
	for k, v := range by {
		if (k <= best-secondOff || k >= best+secondOff) && v > second {
			second = v
		}
	}
	f.ncc[i], f.below[i] = by[best], from+float64(best)*f.step
	f.clear[i] = by[best] > goodNCC && by[best]-second > clearNCC && best > 0 && best < len(by)-1
}

// agreeing tells for each block whether its level is near the median of those
// good ones about it.
func (f *field) agreeing(good func(i int) bool, within float64) []bool {
	out := make([]bool, len(f.below))
	var near []float64
	for r := range f.rows {
		for c := range f.cols {
			i := r*f.cols + c
			if !good(i) {
				continue
			}
			near = near[:0]
			for y := max(0, r-1); y <= min(f.rows-1, r+1); y++ {
				for x := max(0, c-1); x <= min(f.cols-1, c+1); x++ {
					if n := y*f.cols + x; n != i && good(n) {
						near = append(near, f.below[n])
					}
				}
			}
			if len(near) < 3 {
				continue
			}
			slices.Sort(near)
			out[i] = math.Abs(f.below[i]-near[len(near)/2]) < within
		}
	}
	return out
}

// The coarse look: where in depth the ground lies at all.
const (
	coarsePerCm  = 4
	coarseBlock  = 4 // px: 1 cm
	coarseReach  = 2
	coarseStepPx = 0.6
	coarseFromCm = -3
	coarseToCm   = 45
	marginCm     = 2 // beyond the deepest that is seen
	standsCm     = 8 // and above the highest: bones are too narrow for a coarse look
	highestCm    = -2
)

// depthRange is where nearly all of the ground lies, and how much of what is in
// both pictures told it.
func depthRange(first, second *drawer, lo, hi [2]float64) (from, to, share float64) {
	c := first.camera.PlaceCm()
	deepest := min(coarseToCm, 0.5*math.Abs(c[2]))
	f := sweep(newLattice(lo, hi, coarsePerCm, coarseBlock), first, second, coarseFromCm, deepest, coarseStepPx, coarseReach)
	agree := f.agreeing(func(i int) bool { return f.clear[i] }, 1.5+f.step)
	var depths []float64
	seen := 0
	for i, ok := range agree {
		if ok {
			depths = append(depths, f.below[i])
		}
		if f.seen[i] {
			seen++
		}
	}
	if len(depths) < 20 {
		return 0, 0, 0
	}
	slices.Sort(depths)
	n := float64(len(depths) - 1)
	return max(highestCm, depths[int(0.01*n)]-standsCm), depths[int(0.99*n)] + marginCm, float64(len(depths)) / float64(seen)
}
