//go:build cgo

package vision

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// How far the ends of a bar may lie off where a person put them, in blocks:
// along it half a block would be another end, across it a thumb's width is
// nothing.
const (
	strayAlong     = 0.3
	strayMostAlong = 1 // however badly they were picked
	strayAcross    = 1.5
	mostHidden     = 2 // blocks at an end that need not be seen
)

// refineBar measures the bar whose two ends a person has put on the photo, each
// coordinate to pickPx. Only a row of blocks that lies between them and is as
// long as said will do; Miscounted says that one lies there with another number
// of blocks.
func refineBar(p *Picture, ref calibrate.Reference, ends [2]calibrate.Point, pickPx float64) look.Found {
	if why := ref.ShortBar(); why != nil {
		return look.Found{Refused: why}
	}
	full, ok := p.raster()
	if !ok {
		return look.Found{Refused: calibrate.Refuse(retakeBar, "%s: the picture is too small to hold a bar", ref)}
	}
	refused := calibrate.Refuse(retakeBar, "%s: no row of dark and light blocks found between these ends", ref)
	for _, pass := range p.passes() {
		lattices, factor := p.lattices(pass)
		for _, l := range lattices {
			if !l.liesBetween(ends, factor) {
				continue
			}
			marks, blocks, _, why := full.bar(l, ref, p.Camera(), factor)
			if why != nil {
				refused = why
			}
			if marks == nil {
				continue
			}
			why, miscounted := askewOf(ref, p.Camera(), marks, blocks, ends, pickPx)
			if miscounted {
				return look.Found{Miscounted: true, Refused: why}
			}
			if why != nil {
				refused = why
				continue
			}
			return look.Found{Marks: marks, Counted: fmt.Sprintf("%d blocks of %g cm", blocks, ref.BlockCm)}
		}
	}
	return look.Found{Refused: refused}
}

// liesBetween tells whether most of a lattice's blocks lie between two ends,
// within a block of the line.
func (l blockLattice) liesBetween(ends [2]calibrate.Point, factor float64) bool {
	dx, dy := ends[1].XPx-ends[0].XPx, ends[1].YPx-ends[0].YPx
	long := math.Hypot(dx, dy)
	if long == 0 {
		return false
	}
	reach := max(l.blockPx(factor), 1)
	between := 0
	for _, c := range l.order {
		at := fullPx(l.blocks[c].centre, factor)
		x, y := at.x-ends[0].XPx, at.y-ends[0].YPx
		along, off := (x*dx+y*dy)/long, math.Abs(x*dy-y*dx)/long
		if along > -reach && along < long+reach && off < 2*reach {
			between++
		}
	}
	return 2*between > len(l.order)
}

// askewOf is why a row of so many blocks is not the bar whose ends a person
// put, or nil. Its own ends must be those, but for a block or two: a light one
// at the end of a bar is not told from the paper beside it, and mud hides
// others.
func askewOf(ref calibrate.Reference, camera calibrate.Camera, marks []calibrate.Mark, blocks int, ends [2]calibrate.Point, pickPx float64) (why *calibrate.Refusal, miscounted bool) {
	seen := ref
	seen.LengthCm = max(ref.LengthCm, float64(blocks)*ref.BlockCm) // whatever was said
	plane, err := calibrate.FitReference(seen, camera, marks)
	if err != nil {
		return asRefusal(err), false
	}
	level, err := plane.At(0)
	if err != nil {
		return asRefusal(err), false
	}
	var u, v [2]float64
	for i, e := range ends {
		if u[i], v[i], err = level.Cm(e); err != nil {
			return asRefusal(err), false
		}
	}
	scale, err := level.ScalePxPerCm(plane.MiddleCm())
	if err != nil {
		return asRefusal(err), false
	}
	picked := pickPx / (scale.Value * ref.BlockCm) // in blocks, like all that follows
	lo, hi := plane.Corners[0], plane.Corners[2]
	for _, m := range marks {
		if m.Pins == calibrate.PinsU { // the outermost may carry no weight
			lo[0], hi[0] = min(lo[0], m.UCm), max(hi[0], m.UCm)
		}
	}
	first, last := (min(u[0], u[1])-lo[0])/ref.BlockCm, (max(u[0], u[1])-hi[0])/ref.BlockCm
	beside := max(lo[1]-v[0], v[0]-hi[1], lo[1]-v[1], v[1]-hi[1]) / ref.BlockCm
	along, across := min(max(strayAlong, 3*picked), strayMostAlong), max(strayAcross, 3*picked)
	said, nearest, off := int(math.Round(ref.LengthCm/ref.BlockCm)), 0, math.Inf(1)
	for before := range mostHidden + 1 {
		for after := range mostHidden + 1 {
			miss := max(math.Abs(first+float64(before)), math.Abs(last-float64(after)))
			if n := blocks + before + after; miss <= along && n == said && beside <= across {
				return nil, false
			} else if miss < off {
				nearest, off = n, miss
			}
		}
	}
	if off > along || beside > across {
		return calibrate.Refuse("put the two ends on the bar's own", "%s: %d blocks are found near these ends, but not from one to the other", ref, blocks), false
	}
	return calibrate.Refuse("measure its blocks and its length again", "%s: %d blocks lie between these ends, not %d", ref, nearest, said), true
}
