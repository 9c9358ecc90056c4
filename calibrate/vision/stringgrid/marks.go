package stringgrid

import "fieldjacket/calibrate"

// marks are the accepted stations of lines that are strings, in cells.
func (r *reading) marks() []calibrate.Mark {
	strings := map[lineName]bool{}
	for family := range 2 {
		for _, l := range r.lines[family] {
			strings[lineName{family, l.index}] = l.isString()
		}
	}
	var out []calibrate.Mark
	for i := range r.stations {
		s := &r.stations[i]
		if !s.good || !strings[lineName{s.family, s.index}] {
			continue
		}
		m := calibrate.Mark{At: s.mark(), Pins: calibrate.PinsU, UCm: float64(s.index)}
		if s.family == 1 {
			m = calibrate.Mark{At: s.mark(), Pins: calibrate.PinsV, VCm: float64(s.index)}
		}
		// Numbers from 1: a line's among its family's, an edge's on its line.
		m.Line = 1 + s.family*1000 + s.index - r.box.lo[s.family]
		m.Edge = 1 + 1000*m.Line + s.cell - r.box.lo[1-s.family]
		m.WidthPx = r.template.width * s.unitPx
		out = append(out, m)
	}
	return out
}

// refine fits the lattice's plane to the marks.
func (r *reading) refine(camera calibrate.Camera) bool {
	h := r.lattice.plane.Homography
	p, _, err := calibrate.Fit(calibrate.Reference{Kind: calibrate.KindGrid}, camera, r.marks(), calibrate.FitOptions{Start: &h, K1: r.lattice.plane.K1, Rounds: 2, Rough: true})
	if err != nil {
		return false
	}
	r.lattice.plane = p
	r.lattice.level, err = p.At(0)
	return err == nil
}

// asides are those of the accepted stations.
func (r *reading) asides() map[lineName][]aside {
	out := map[lineName][]aside{}
	for i := range r.stations {
		s := &r.stations[i]
		if !s.good {
			continue
		}
		name := lineName{s.family, s.index}
		if a, ok := r.lattice.aside(name, s.mark()); ok {
			out[name] = append(out[name], a)
		}
	}
	return out
}

// inCm names marks in centimetres, the box's first lines being 0.
func inCm(marks []calibrate.Mark, pitchCm float64) []calibrate.Mark {
	for i := range marks {
		marks[i].UCm *= pitchCm
		marks[i].VCm *= pitchCm
	}
	return marks
}
