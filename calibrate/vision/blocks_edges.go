package vision

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
)

// A greyRaster is a grey picture's bytes, row by row.
type greyRaster struct {
	width, height int
	grey          []uint8
}

// at is the grey at a place between pixels; false outside the picture.
func (r greyRaster) at(p place) (float64, bool) {
	if !(p.x >= 0 && p.y >= 0 && p.x < float64(r.width-1) && p.y < float64(r.height-1)) {
		return 0, false
	}
	return r.between(p), true
}

// between is the grey at a place that lies in the picture.
func (r greyRaster) between(p place) float64 {
	x, y := int(p.x), int(p.y)
	fx, fy := p.x-float64(x), p.y-float64(y)
	i := y*r.width + x
	up, down := r.grey[i:i+2], r.grey[i+r.width:i+r.width+2]
	a, b, c, d := float64(up[0]), float64(up[1]), float64(down[0]), float64(down[1])
	return (a+(b-a)*fx)*(1-fy) + (c+(d-c)*fx)*fy
}

// An edgeSeen is where a block's side was found in the full picture.
type edgeSeen struct {
	cell cell
	side int // 0: at t, 1: at t+1, 2: at r, 3: at r+1
	half int
	at   place
	off  float64 // from its expected place, in blocks, outwards
	step float64 // grey levels from the dark side to the light one
}

const (
	minStep   = 8 // grey levels between block and ground
	edgeReach = 0.35
	levelPart = 0.3 // share of a profile's samples, at either end, that give a side's level
)

// A mapping takes lattice coordinates to the full picture.
type mapping func(t, r float64) (place, bool)

// sideHalves are the parts of a side, away from its ends and its middle, over
// which profiles are averaged.
var sideHalves = [2][2]float64{{0.12, 0.44}, {0.56, 0.88}}

// edge looks for one half of one side of a block: profiles across it, averaged
// along it in the lattice's own coordinates so that no tilt smears them, then
// the half-level crossing nearest the steepest rise from dark to light.
func (r greyRaster) edge(m mapping, c cell, side, half int, reach float64) (edgeSeen, bool) {
	e := edgeSeen{cell: c, side: side, half: half}
	point := func(across, along float64) (place, bool) { // across: outwards from the side
		t, row := float64(c.t), float64(c.r)
		switch side {
		case 0:
			return m(t-across, row+along)
		case 1:
			return m(t+1+across, row+along)
		case 2:
			return m(t+along, row-across)
		}
		return m(t+along, row+1+across)
	}
	in, ok1 := point(-reach, 0.5)
	out, ok2 := point(reach, 0.5)
	a, ok3 := point(0, sideHalves[half][0])
	b, ok4 := point(0, sideHalves[half][1])
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return e, false
	}
	n := min(max(int(math.Ceil(out.minus(in).size()*1.5)), 12), 160)
	lines := min(max(int(b.minus(a).size()), 4), 24)
	sum := make([]float64, n)
	ends := make([][2]place, 0, lines)
	for i := range lines {
		part := sideHalves[half][0] + (sideHalves[half][1]-sideHalves[half][0])*(float64(i)+0.5)/float64(lines)
		from, okA := point(-reach, part)
		to, okB := point(reach, part)
		if !okA || !okB {
			return e, false
		}
		if !r.sample(sum, from, to.minus(from).times(1/float64(n-1)), 1/float64(lines)) {
			return e, false
		}
		ends = append(ends, [2]place{from, to})
	}
	at, step, ok := rise(sum)
	if !ok {
		return e, false
	}
	part := at / float64(n-1)
	for _, l := range ends {
		e.at = e.at.plus(along(l[0], l[1], part).times(1 / float64(lines)))
	}
	e.off, e.step = (2*part-1)*reach, step
	return e, true
}

// sample adds the greys along a straight line to sum, each times weight; false,
// with nothing added, where it leaves the picture.
func (r greyRaster) sample(sum []float64, from, step place, weight float64) bool {
	w, h := float64(r.width-1), float64(r.height-1)
	for _, p := range [2]place{from, from.plus(step.times(float64(len(sum) - 1)))} {
		if !(p.x >= 0 && p.y >= 0 && p.x < w && p.y < h) {
			return false
		}
	}
	for k := range sum {
		sum[k] += weight * r.between(from.plus(step.times(float64(k))))
	}
	return true
}

// rise finds the rise from dark to light in a profile: the place, in samples,
// where it crosses half way between the levels on either side.
func rise(profile []float64) (at, step float64, ok bool) {
	n := len(profile)
	best, where := 0.0, -1
	for k := 1; k < n-2; k++ {
		g := profile[k+1] - profile[k] + 0.5*(profile[k]-profile[k-1]+profile[k+2]-profile[k+1])
		off := (float64(k) + 0.5 - float64(n-1)/2) / (0.35 * float64(n))
		if g *= math.Exp(-off * off / 2); g > best {
			best, where = g, k
		}
	}
	if where < 0 {
		return 0, 0, false
	}
	width := max(3, int(levelPart*float64(n)))
	gap := max(1, n/12)
	dark := middle(profile[max(0, where-gap-width):max(1, where-gap+1)])
	light := middle(profile[min(n-1, where+1+gap):min(n, where+2+gap+width)])
	if step = light - dark; step < minStep {
		return 0, step, false
	}
	half := (dark + light) / 2
	found := math.Inf(1)
	for k := range n - 1 {
		if profile[k] <= half && profile[k+1] > half {
			x := float64(k) + (half-profile[k])/(profile[k+1]-profile[k])
			if math.Abs(x-float64(where)-0.5) < math.Abs(found-float64(where)-0.5) {
				found = x
			}
		}
	}
	return found, step, math.Abs(found-float64(where)-0.5) <= 0.15*float64(n)
}

// middle is the median, of an even count the upper one; v keeps its order.
func middle(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return v[len(v)/2]
}

// edges looks for all sides of blocks.
func (r greyRaster) edges(m mapping, cells []cell, reach float64) []edgeSeen {
	var out []edgeSeen
	for _, c := range cells {
		for side := range 4 {
			for half := range 2 {
				if e, ok := r.edge(m, c, side, half, reach); ok {
					out = append(out, e)
				}
			}
		}
	}
	return out
}

// mappingOf is the lattice's mapping from a plane whose coordinates are cells.
func mappingOf(p *calibrate.Plane) (mapping, bool) {
	level, err := p.At(0)
	return func(t, r float64) (place, bool) {
		at, ok := level.Photo(t, r)
		return place{at.XPx, at.YPx}, ok
	}, err == nil
}

// coarse fits a plane to the corners of a lattice's blocks, in cells; factor
// takes their picture to the full one.
func (l blockLattice) coarse(camera calibrate.Camera, factor float64) (*calibrate.Plane, bool) {
	var marks []calibrate.Mark
	for _, c := range l.order {
		for k, o := range cellCorners {
			at := fullPx(l.blocks[c].corner[k], factor)
			marks = append(marks, calibrate.Mark{
				At:  calibrate.Point{XPx: at.x, YPx: at.y},
				UCm: float64(c.t + o.t), VCm: float64(c.r + o.r),
			})
		}
	}
	p, _, err := calibrate.Fit(calibrate.Reference{}, camera, marks, calibrate.FitOptions{FloorPx: factor / 2, Rounds: 3})
	return p, err == nil
}

// edgeMarks are marks for edges, lengths in units of cm per cell.
func edgeMarks(edges []edgeSeen, cellCm float64) []calibrate.Mark {
	marks := make([]calibrate.Mark, 0, len(edges))
	for _, e := range edges {
		m := calibrate.Mark{At: calibrate.Point{XPx: e.at.x, YPx: e.at.y}}
		line := e.cell.t + e.side
		if e.side < 2 {
			m.Pins, m.UCm, m.Line = calibrate.PinsU, float64(line)*cellCm, 2*(line+1000)+1
		} else {
			line = e.cell.r + e.side - 2
			m.Pins, m.VCm, m.Line = calibrate.PinsV, float64(line)*cellCm, 2*(line+1000)
		}
		m.Edge = 4*(1000*(e.cell.t+500)+e.cell.r+500) + e.side
		marks = append(marks, m)
	}
	return marks
}
