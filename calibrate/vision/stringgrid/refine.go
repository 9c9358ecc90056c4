package stringgrid

import (
	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// Refine measures the strings near the lines of a rough plane, whose unit is
// one cell: the segments of each kind of line in turn are sorted to them, and
// the lattice that they make is read and judged at full size as one that was
// found.
func Refine(p Photo, ref calibrate.Reference, rough *calibrate.Plane) look.Found {
	full, ok := p.raster()
	if !ok {
		return look.Found{Refused: refuseFew("the picture is too small to hold a grid")}
	}
	f := intrinsicsOf(p.Camera)
	refused := refuseFew("no strings found between the corners")
	for _, group := range looks(p.Lines) {
		all := rays(group, f, p.Factor)
		l, ok := nearLattice(all, f, p.Camera, rough)
		if !ok {
			continue
		}
		r, why := l.measure(full, f, p.Camera, p.Factor)
		if why == nil {
			why = r.judge(true)
		}
		if why == nil {
			if doubt := r.pitchDoubt(); doubt != nil {
				return look.Found{Miscounted: true, Refused: doubt}
			}
		}
		if why != nil {
			refused = why
			continue
		}
		return r.found(ref)
	}
	if p.Layers == nil {
		return look.Found{Refused: refused}
	}
	layers, done := p.Layers()
	defer done()
	return p.snapped(ref, rough, layers, refused)
}

// snapped looks for uneven strings between the corners of a rough plane.
func (p *Photo) snapped(ref calibrate.Reference, rough *calibrate.Plane, layers []Layer, refused *calibrate.Refusal) look.Found {
	l := &lattice{plane: rough}
	var err error
	if l.level, err = rough.At(0); err != nil {
		return look.Found{Refused: refused}
	}
	put := box{hi: [2]int{ref.CellsAcross, ref.CellsDown}}
	w, ok := weaveOn(l, put, layers, p.Camera)
	if !ok {
		return look.Found{Refused: refused}
	}
	w.box = w.box.within(put)
	if w.box.lines(0) < 3 || w.box.lines(1) < 3 {
		return look.Found{Refused: refused}
	}
	if !w.believed() {
		return look.Found{Miscounted: true, Refused: refuseFew("strings are seen half way between those counted, or many of those counted are not seen, so the pitch is in doubt")}
	}
	return look.Found{Marks: inCm(w.marks(), ref.PitchCm), Counted: counted(w.box, 0)}
}

// within is the part of a box that lies in another.
func (b box) within(o box) box {
	for k := range 2 {
		b.lo[k], b.hi[k] = max(b.lo[k], o.lo[k]), min(b.hi[k], o.hi[k])
	}
	return b
}

// nearLattice moves a plane, in cells, to the segments that lie on its lines.
func nearLattice(all []ray, f intrinsics, camera calibrate.Camera, plane *calibrate.Plane) (*lattice, bool) {
	l := &lattice{plane: plane}
	var err error
	if l.level, err = plane.At(0); err != nil {
		return nil, false
	}
	for _, tol := range []float64{0.25, 0.15, 0.1} {
		l.sort(all, f, tol)
		if _, ok := l.box(); !ok || !l.refit(f, camera) {
			return nil, false
		}
	}
	l.sort(all, f, 0.08)
	_, ok := l.box()
	return l, ok
}
