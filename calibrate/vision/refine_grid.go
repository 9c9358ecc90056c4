//go:build cgo

package vision

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// Ready does what [Refine] needs of a photo wherever the corners lie.
func Ready(p *Picture) {
	if w, h := p.Size(); p.segments == nil && min(w, h) >= 64 {
		p.segments, p.segmentFactor = gridSegments(p)
	}
}

// refineGrid measures the strings near the rough plane's lines: the segments
// of each kind of line in turn are sorted to them, and the lattice that they
// make is read and judged at full size as one that was found.
func refineGrid(p *Picture, ref calibrate.Reference, rough *calibrate.Plane) look.Found {
	w, h := p.Size()
	bgr, err := p.Colour.DataPtrUint8()
	if err != nil || len(bgr) != 3*w*h || min(w, h) < 64 {
		return look.Found{Refused: refuseFew("the picture is too small to hold a grid")}
	}
	full, camera := raster{w, h, bgr}, p.Camera()
	f := frameOf(camera)
	Ready(p)
	refused := refuseFew("no strings found between the corners")
	for _, group := range looks(p.segments) {
		all := rays(group, f, p.segmentFactor)
		l, ok := nearLattice(all, f, camera, inUnits(rough, ref.PitchCm))
		if !ok {
			continue
		}
		r, why := l.measure(full, f, camera, p.segmentFactor)
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
		return look.Found{Marks: inCm(r.marks(), ref.PitchCm), Counted: fmt.Sprintf("%d x %d strings", r.box.lines(0), r.box.lines(1))}
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
