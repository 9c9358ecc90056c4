package stereo

import (
	"math"
	"slices"

	"fieldjacket/calibrate/relief"
)

// What a node must show to be given.
const (
	leastNCC    = 0.6
	bothSteps   = 1.5  // levels that the two directions may differ by
	mostShiftPx = 1.0  // px of the lattice
	mostSdCm    = 0.4  // of its depth, by the match alone
	nearBlocks  = 2    // neighbours: 24
	nearLeast   = 8    //
	nearCm      = 0.6  // and a px: from their median
	refinements = 2    // least-squares shifts
	leastCoarse = 0.08 // share of the ground whose depth the coarse look must tell
)

// Match finds where the second photo shows the ground that the first shows
// below the strings between lo and hi, for their cameras as the strings tell
// them.
func Match(cameras [2]relief.Camera, views [2]*View, lo, hi [2]float64) relief.Matches {
	first, second := coarseDrawers(cameras, views, lo, hi)
	from, to, share := depthRange(first, second, lo, hi)
	out := relief.Matches{SpacingCm: fineBlock / float64(finePerCm), Coarse: share}
	if share < leastCoarse {
		return out
	}
	first, second = drawers(cameras, views, lo, hi, finePerCm)
	v := costs(newLattice(lo, hi, finePerCm, fineBlock), first, second, from, to)
	total := v.smoothed()
	best := v.best(total)
	both := v.confirmed(total, best, &first.camera, &second.camera, bothSteps)
	below := make([]float64, len(best))
	for i, k := range best {
		below[i] = v.below(max(k, 0))
	}
	var shifts []shift
	var rest []shift // what is left across the parallax, with it
	for range refinements {
		shifts = v.shifts(v.warped(second, first, below))
		rest = v.follow(shifts, below, first, second)
	}
	v.give(&out, best, both, below, rest, first, second)
	return out
}

func coarseDrawers(cameras [2]relief.Camera, views [2]*View, lo, hi [2]float64) (first, second *drawer) {
	return drawers(cameras, views, lo, hi, coarsePerCm)
}

// drawers take each photo at the size that suits a lattice.
func drawers(cameras [2]relief.Camera, views [2]*View, lo, hi [2]float64, perCm float64) (first, second *drawer) {
	var out [2]*drawer
	for i := range out {
		out[i] = &drawer{views[i].layerFor(pxPerCm(&cameras[i], lo, hi), perCm), cameras[i]}
	}
	return out[0], out[1]
}

// parallax is how what lies at a node moves over the lattice in the second
// photo as it is taken deeper, in px per cm.
func (v *volume) parallax(col, row int, below float64, first, second *drawer) (x, y float64) {
	c := first.camera.PlaceCm()
	g, h := v.middle(col, row)
	at := func(d float64) (float64, float64) {
		grow := 1 + d/-c[2]
		return c[0] + grow*(g-c[0]), c[1] + grow*(h-c[1])
	}
	u0, v0 := at(below)
	u1, v1 := at(below + 0.1)
	o := second.camera.PlaceCm()
	// where the second camera's ray to the deeper place meets the level
	k := (below - o[2]) / (below + 0.1 - o[2])
	u1, v1 = o[0]+k*(u1-o[0]), o[1]+k*(v1-o[1])
	shrink := 1 / (1 + below/-c[2])
	return (u1 - u0) * shrink * v.perCm / 0.1, (v1 - v0) * shrink * v.perCm / 0.1
}

// follow takes what a shift says of the depth into it, up to a px, and gives
// what is left.
func (v *volume) follow(shifts []shift, below []float64, first, second *drawer) []shift {
	rest := slices.Clone(shifts)
	for i := range shifts {
		s := &rest[i]
		if !s.ok {
			continue
		}
		px, py := v.parallax(i%v.cols, i/v.cols, below[i], first, second)
		pp := px*px + py*py
		if !(pp > 0) {
			s.ok = false
			continue
		}
		along := (s.x*px + s.y*py) / pp
		if math.Abs(along)*math.Sqrt(pp) > mostShiftPx {
			s.ok = false
			continue
		}
		below[i] += along
		s.x, s.y = s.x-along*px, s.y-along*py
	}
	return rest
}

// give lists the nodes that hold.
func (v *volume) give(out *relief.Matches, best []float64, both []bool, below []float64, rest []shift, first, second *drawer) {
	good := make([]bool, len(best))
	for i, s := range rest {
		if s.share >= leastShare {
			out.Visible++
		}
		if best[i] < 0 || !both[i] || !s.ok || s.ncc < leastNCC || math.Hypot(s.x, s.y) > mostShiftPx {
			continue
		}
		px, py := v.parallax(i%v.cols, i/v.cols, below[i], first, second)
		pp := px*px + py*py
		good[i] = math.Sqrt(px*px*s.xx+2*px*py*s.xy+py*py*s.yy)/pp < mostSdCm
	}
	kept := v.neighboured(good, below, first, second)
	shrinkOf := func(d float64) float64 { return 1 + d/-first.camera.PlaceCm()[2] }
	c := first.camera.PlaceCm()
	for i, ok := range kept {
		if !ok {
			continue
		}
		s := &rest[i]
		g, h := v.middle(i%v.cols, i/v.cols)
		at, ok1 := first.camera.Photo(g, h, 0)
		grow := shrinkOf(below[i])
		// the second photo shows it at the lattice's place and the rest of the shift
		u, w := c[0]+grow*(g+s.x/v.perCm-c[0]), c[1]+grow*(h+s.y/v.perCm-c[1])
		to, ok2 := second.camera.Photo(u, w, below[i])
		beside, ok3 := second.camera.Photo(u+0.1, w, below[i])
		if !ok1 || !ok2 || !ok3 {
			continue
		}
		pxPerLattice := math.Hypot(beside.XPx-to.XPx, beside.YPx-to.YPx) / 0.1 * grow / v.perCm
		out.Nodes = append(out.Nodes, relief.Match{UCm: g, VCm: h, At: at, To: to, UPx: math.Sqrt((s.xx+s.yy)/2) * pxPerLattice})
	}
}

// neighboured keeps the nodes that enough good neighbours agree with.
func (v *volume) neighboured(good []bool, below []float64, first, second *drawer) []bool {
	out := make([]bool, len(good))
	px, py := v.parallax(v.cols/2, v.rows/2, v.below(float64(v.levels)/2), first, second)
	within := nearCm + 1/math.Hypot(px, py)
	var near []float64
	for r := range v.rows {
		for c := range v.cols {
			i := r*v.cols + c
			if !good[i] {
				continue
			}
			near = near[:0]
			for y := max(0, r-nearBlocks); y <= min(v.rows-1, r+nearBlocks); y++ {
				for x := max(0, c-nearBlocks); x <= min(v.cols-1, c+nearBlocks); x++ {
					if n := y*v.cols + x; n != i && good[n] {
						near = append(near, below[n])
					}
				}
			}
			if len(near) < nearLeast {
				continue
			}
			slices.Sort(near)
			out[i] = math.Abs(below[i]-near[len(near)/2]) <= within
		}
	}
	return out
}
