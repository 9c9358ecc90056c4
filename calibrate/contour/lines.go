package contour

import "math"

// A Line is one level line: through these places (u, v), in cm. A closed one ends where it begins.
type Line [][2]float64

// Closed tells whether the line ends where it begins.
func (l Line) Closed() bool { return len(l) > 3 && l[0] == l[len(l)-1] }

// Length is the line's length in cm.
func (l Line) Length() (cm float64) {
	for i := 1; i < len(l); i++ {
		cm += math.Hypot(l[i][0]-l[i-1][0], l[i][1]-l[i-1][1])
	}
	return cm
}

// An edge lies between two neighbouring nodes: from (i, j) along u, or along v.
type edge struct {
	i, j int
	down bool
}

// Lines are the lines on which the surface is that high, by marching squares (Lorensen and Cline 1987, in two dimensions):
// places on the edges of the net by linear interpolation, higher ground to the right of the way of the line with u to the
// right and v down. A cell whose corners are high and low crosswise is settled by the mean of its four corners (Nielson and
// Hamann 1991 in its simplest form). No line enters a cell one of whose corners is not known. A height of exactly the level
// counts as above it.
func (s Surface) Lines(level float64) []Line {
	next := map[edge]edge{} // within one cell, from where the line comes in to where it goes out
	entered := map[edge]bool{}
	var starts []edge
	for j := range s.Down - 1 {
		for i := range s.Across - 1 {
			for _, way := range s.ways(i, j, level) {
				next[way[0]] = way[1]
				entered[way[1]] = true
				starts = append(starts, way[0])
			}
		}
	}
	var out []Line
	walk := func(from edge) {
		line := Line{s.crossing(from, level)}
		for at := from; ; {
			to, ok := next[at]
			if !ok {
				break
			}
			delete(next, at)
			if p := s.crossing(to, level); p != line[len(line)-1] {
				line = append(line, p)
			}
			at = to
		}
		if len(line) > 1 {
			out = append(out, line)
		}
	}
	for _, e := range starts {
		if !entered[e] {
			walk(e)
		}
	}
	for _, e := range starts {
		if _, left := next[e]; left { // of a closed line
			walk(e)
		}
	}
	return out
}

// ways are the edges by which a line comes into a cell and goes out again, up to two.
func (s Surface) ways(i, j int, level float64) [][2]edge {
	z := [4]float64{s.node(i, j), s.node(i+1, j), s.node(i+1, j+1), s.node(i, j+1)} // clockwise as seen
	above, mean := 0, 0.0
	for k, h := range z {
		if math.IsNaN(h) {
			return nil
		}
		if h >= level {
			above |= 1 << k
		}
		mean += h / 4
	}
	top, right, bottom, left := edge{i, j, false}, edge{i + 1, j, true}, edge{i, j + 1, false}, edge{i, j, true}
	switch above {
	case 1:
		return [][2]edge{{top, left}}
	case 2:
		return [][2]edge{{right, top}}
	case 3:
		return [][2]edge{{right, left}}
	case 4:
		return [][2]edge{{bottom, right}}
	case 6:
		return [][2]edge{{bottom, top}}
	case 7:
		return [][2]edge{{bottom, left}}
	case 8:
		return [][2]edge{{left, bottom}}
	case 9:
		return [][2]edge{{top, bottom}}
	case 11:
		return [][2]edge{{right, bottom}}
	case 12:
		return [][2]edge{{left, right}}
	case 13:
		return [][2]edge{{top, right}}
	case 14:
		return [][2]edge{{left, top}}
	case 5:
		if mean >= level {
			return [][2]edge{{top, right}, {bottom, left}}
		}
		return [][2]edge{{top, left}, {bottom, right}}
	case 10:
		if mean >= level {
			return [][2]edge{{right, bottom}, {left, top}}
		}
		return [][2]edge{{right, top}, {left, bottom}}
	}
	return nil
}

// crossing is where the level lies on an edge whose two nodes are known.
func (s Surface) crossing(e edge, level float64) [2]float64 {
	di, dj := 1, 0
	if e.down {
		di, dj = 0, 1
	}
	a, b := s.node(e.i, e.j), s.node(e.i+di, e.j+dj)
	t := (level - a) / (b - a)
	return s.place(float64(e.i)+t*float64(di), float64(e.j)+t*float64(dj))
}

// Simplified leaves out places that lie within tolCm of the line through those that stay (Douglas and Peucker 1973).
func (l Line) Simplified(tolCm float64) Line {
	if len(l) < 3 {
		return l
	}
	if l.Closed() { // by halves: its two ends are one place
		far, at := 0.0, 0
		for i, p := range l {
			if d := math.Hypot(p[0]-l[0][0], p[1]-l[0][1]); d > far {
				far, at = d, i
			}
		}
		return append(l[:at+1].thinned(tolCm), l[at:].thinned(tolCm)[1:]...)
	}
	return l.thinned(tolCm)
}

// thinned is Simplified for a line with two ends.
func (l Line) thinned(tolCm float64) Line {
	if len(l) < 3 {
		return append(Line(nil), l...)
	}
	a, b := l[0], l[len(l)-1]
	du, dv := b[0]-a[0], b[1]-a[1]
	long := math.Hypot(du, dv)
	far, at := 0.0, 0
	for i, p := range l {
		d := math.Hypot(p[0]-a[0], p[1]-a[1])
		if long > 0 {
			along := ((p[0]-a[0])*du + (p[1]-a[1])*dv) / long
			switch {
			case along > long:
				d = math.Hypot(p[0]-b[0], p[1]-b[1])
			case along > 0:
				d = math.Abs((p[0]-a[0])*dv-(p[1]-a[1])*du) / long
			}
		}
		if d > far {
			far, at = d, i
		}
	}
	if far <= tolCm {
		return Line{a, b}
	}
	return append(l[:at+1].thinned(tolCm), l[at:].thinned(tolCm)[1:]...)
}
