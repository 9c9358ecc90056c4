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
	f := frameOf(p.Camera)
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
	return look.Found{Refused: refused}
}

// nearLattice moves a plane, in cells, to the segments that lie on its lines.
func nearLattice(all []ray, f frame, camera calibrate.Camera, plane *calibrate.Plane) (*lattice, bool) {
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
