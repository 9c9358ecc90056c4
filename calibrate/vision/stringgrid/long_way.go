package stringgrid

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// A wovenGrid is a weave whose marks make a plane.
type wovenGrid struct {
	weave *weave
	marks []calibrate.Mark // in cm
	level calibrate.Level
}

// longWay finds a grid of uneven strings. Of two frames side by side the one
// with more to see of it is taken where it gives the other its size, too; else
// nothing tells which of them is meant. false: there is none.
func (p *Photo) longWay(full raster, layers []Layer, ref calibrate.Reference) (look.Found, bool) {
	var grids []wovenGrid
	best := 0
	for _, w := range weaves(full, layers, intrinsicsOf(p.Camera), p.Camera) {
		g := wovenGrid{weave: w, marks: inCm(w.marks(), ref.PitchCm)}
		plane, err := calibrate.FitGrid(ref, p.Camera, g.marks)
		if err != nil {
			continue
		}
		if g.level, err = plane.At(0); err != nil {
			continue
		}
		grids = append(grids, g)
		if len(g.marks) > len(grids[best].marks) {
			best = len(grids) - 1
		}
	}
	if len(grids) == 0 {
		return look.Found{}, false
	}
	for i := range grids {
		if i != best && !grids[best].fits(&grids[i], ref.PitchCm) {
			return look.Found{Refused: calibrate.Refuse("take it again with one grid in the frame, or set the scale by hand on the one that counts",
				"grid: there are two grids, of %s and %s, and one does not give the other its size", counted(grids[best].weave.box, 0), counted(grids[i].weave.box, 0))}, true
		}
	}
	return look.Found{Marks: grids[best].marks, Counted: counted(grids[best].weave.box, grids[best].weave.open)}, true
}

// fits tells whether the sides of another grid are as long by this one's plane
// as its cells are, within U of both.
func (g *wovenGrid) fits(o *wovenGrid, pitchCm float64) bool {
	b := o.weave.box
	corners := [4][2]int{{b.lo[0], b.lo[1]}, {b.hi[0], b.lo[1]}, {b.hi[0], b.hi[1]}, {b.lo[0], b.hi[1]}}
	for i, c := range corners {
		d := corners[(i+1)%4]
		from, ok1 := o.weave.lattice.level.Photo(float64(c[0]), float64(c[1]))
		to, ok2 := o.weave.lattice.level.Photo(float64(d[0]), float64(d[1]))
		if !ok1 || !ok2 {
			return false
		}
		want := pitchCm * math.Hypot(float64(d[0]-c[0]), float64(d[1]-c[1]))
		here, err1 := g.level.LengthCm(from, to)
		there, err2 := o.level.LengthCm(from, to)
		if err1 != nil || err2 != nil || math.Abs(here.Value-want) > here.U+there.U || here.U > 0.25*want {
			return false
		}
	}
	return true
}
