package stereo

import (
	"math"

	"fieldjacket/calibrate/relief"
)

// The fine look.
const (
	finePerCm  = 8
	fineBlock  = 4 // px: nodes of 0.5 cm
	fineReach  = 1 // blocks: windows of 1.5 cm
	fineStepPx = 0.8
	unseen     = 0.6 // cost of a window of which too little is seen
	smoothOne  = 0.06
	smoothMany = 0.7
	leastShare = 0.4 // of a window's px
)

// A volume is the cost of each level for each node.
type volume struct {
	lattice
	from, step float64 // cm
	levels     int
	cost       []float32 // by node, then by level
	drawn      []float32 // the first photo
}

// costs sweeps the levels from one depth to another.
func costs(l lattice, first, second *drawer, from, to float64) *volume {
	v := &volume{lattice: l, from: from, step: l.stepCm(&first.camera, &second.camera, (from+to)/2, fineStepPx)}
	v.levels = max(3, int(math.Ceil((to-from)/v.step))+1)
	n := l.cols * l.rows
	v.cost, v.drawn = make([]float32, n*v.levels), first.draw(&l, &first.camera, 0)
	row := make([]float32, l.w)
	all, spare := make([]sums, n), make([]sums, n)
	side := (2*fineReach + 1) * l.block
	least := leastShare * float32(side*side)
	for k := range v.levels {
		second.blockSums(&l, first, v.drawn, v.below(float64(k)), row, all)
		windows(l.cols, l.rows, fineReach, all, spare)
		for i := range all {
			c := float32(unseen)
			if ncc, ok := all[i].ncc(least); ok {
				c = 1 - ncc
			}
			v.cost[i*v.levels+k] = c
		}
	}
	return v
}

func (v *volume) below(level float64) float64 { return v.from + level*v.step }

// smoothed sums the costs along eight directions, each with a small price for
// going over to the next level and a large one for a step.
func (v *volume) smoothed() []float32 {
	total := make([]float32, len(v.cost))
	d := v.levels
	was, is := make([]float32, v.cols*d), make([]float32, v.cols*d)
	spare := make([]float32, d)
	// Downwards: straight and both diagonals, then the same upwards.
	for _, down := range []bool{true, false} {
		for _, side := range []int{-1, 0, 1} {
			for n := range v.rows {
				r := n
				if !down {
					r = v.rows - 1 - n
				}
				for c := range v.cols {
					at := (r*v.cols + c) * d
					var before []float32
					if from := c + side; n > 0 && from >= 0 && from < v.cols {
						before = was[from*d : from*d+d]
					}
					path(before, v.cost[at:at+d], is[c*d:c*d+d], total[at:at+d])
				}
				was, is = is, was
			}
		}
	}
	for r := range v.rows {
		for _, right := range []bool{true, false} {
			var before []float32
			for n := range v.cols {
				c := n
				if !right {
					c = v.cols - 1 - n
				}
				at := (r*v.cols + c) * d
				path(before, v.cost[at:at+d], spare, total[at:at+d])
				if before == nil {
					before = was[:d]
				}
				copy(before, spare)
			}
		}
	}
	return total
}

// path goes on by one node along a direction: own gets what the way there
// costs by level, total is added to.
func path(before, cost, own, total []float32) {
	if before == nil {
		copy(own, cost)
		for k, c := range cost {
			total[k] += c
		}
		return
	}
	least := before[0]
	for _, b := range before[1:] {
		least = min(least, b)
	}
	far := least + smoothMany
	last := len(before) - 1
	total, own, cost = total[:last+1], own[:last+1], cost[:last+1]
	for k := range before {
		best := min(before[k], far)
		if k > 0 {
			best = min(best, before[k-1]+smoothOne)
		}
		if k < last {
			best = min(best, before[k+1]+smoothOne)
		}
		own[k] = cost[k] + best - least
		total[k] += own[k]
	}
}

// best is the level of least cost for each node, between levels by a parabola;
// -1 at the range's ends.
func (v *volume) best(total []float32) []float64 {
	out := make([]float64, v.cols*v.rows)
	for i := range out {
		by := total[i*v.levels : (i+1)*v.levels]
		k := 0
		for n, c := range by {
			if c < by[k] {
				k = n
			}
		}
		if k == 0 || k == v.levels-1 {
			out[i] = -1
			continue
		}
		l, m, r := float64(by[k-1]), float64(by[k]), float64(by[k+1])
		out[i] = float64(k)
		if bend := l - 2*m + r; bend > 0 {
			out[i] += max(-0.5, min(0.5, 0.5*(l-r)/bend))
		}
	}
	return out
}

// confirmed tells for each node whether the second photo, asked the same way
// along its own ray there, finds the same level to so many steps.
func (v *volume) confirmed(total []float32, best []float64, first, second *relief.Camera, steps float64) []bool {
	out := make([]bool, len(best))
	c := first.PlaceCm()
	shrink := make([]float64, v.levels)
	for k := range shrink {
		shrink[k] = 1 / (1 + v.below(float64(k))/-c[2])
	}
	o := second.PlaceCm()
	for row := range v.rows {
		for col := range v.cols {
			i := row*v.cols + col
			if best[i] < 0 {
				continue
			}
			g, h := v.middle(col, row)
			below := v.below(best[i])
			grow := 1 + below/-c[2]
			x, y := c[0]+grow*(g-c[0]), c[1]+grow*(h-c[1])
			// along the second camera's ray through (x, y, below)
			dx, dy := (x-o[0])/(below-o[2]), (y-o[1])/(below-o[2])
			least, at := float32(math.MaxFloat32), -1
			for k := range v.levels {
				d := v.below(float64(k)) - below
				u := c[0] + shrink[k]*(x+dx*d-c[0])
				w := c[1] + shrink[k]*(y+dy*d-c[1])
				nc, nr := int((u-v.u0)*v.perCm/float64(v.block)), int((w-v.v0)*v.perCm/float64(v.block))
				if u < v.u0 || w < v.v0 || nc >= v.cols || nr >= v.rows {
					continue
				}
				if t := total[(nr*v.cols+nc)*v.levels+k]; t < least {
					least, at = t, k
				}
			}
			out[i] = at >= 0 && math.Abs(float64(at)-best[i]) <= steps
		}
	}
	return out
}
