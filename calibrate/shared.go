package calibrate

import "slices"

// Marks on one string share that string's error, and marks on one piece of it
// share that piece's: the string lies off its place, a shadow runs along it.
// Taken as independent, hundreds of marks would promise an uncertainty that
// twenty strings cannot keep. A mark's error is therefore taken as the sum of
// one of its line, one of its edge and one of its own, whose variances the
// residuals tell; each part is propagated as it acts (JCGM 100:2008, 5.2.2 and
// F.1.2.3: the errors of one line are fully correlated).
const (
	floorLinePx = 0.03 // least standard uncertainty of a line's offset
	floorEdgePx = 0.02 // of an edge's
)

// A piece is a line or an edge: its marks, the sum of their residuals, and the
// sum of their rows of the Jacobian, per px and per cm of its offset; of a line
// also as it turns about its middle by one px, or cm, at both ends.
type piece struct {
	line                         int // of an edge: which line it is of
	n, residual                  float64
	jacobian, jacobianCm         [params]float64
	jacobianTurn, jacobianTurnCm [params]float64
}

func (p *piece) take(r *equation, weight float64) {
	p.n += weight
	p.residual += weight * r.residual
	for i := range params {
		p.jacobian[i] += weight * r.jacobian[i]
		p.jacobianCm[i] += weight * r.jacobian[i] * r.pxPerCm
	}
}

// turned adds a mark that lies at a place along its line, -1 to 1 from end to end.
func (p *piece) turned(r *equation, weight, along float64) {
	for i := range params {
		p.jacobianTurn[i] += along * weight * r.jacobian[i]
		p.jacobianTurnCm[i] += along * weight * r.jacobian[i] * r.pxPerCm
	}
}

// alongLines is where each mark lies on its line, -1 to 1 from end to end, by
// the numbers of their edges.
func alongLines(marks []Mark) []float64 {
	ends := map[int][2]int{}
	for _, m := range marks {
		e, ok := ends[m.Line]
		if !ok {
			e = [2]int{m.Edge, m.Edge}
		}
		ends[m.Line] = [2]int{min(e[0], m.Edge), max(e[1], m.Edge)}
	}
	out := make([]float64, len(marks))
	for i, m := range marks {
		if e := ends[m.Line]; e[1] > e[0] {
			out[i] = float64(2*m.Edge-e[0]-e[1]) / float64(e[1]-e[0])
		}
	}
	return out
}

// pieces sums the marks that carry the fit: lines and edges in the order of
// their numbers, the sum of the squared residuals, and px/cm across lines.
func (f *fitting) pieces(s state) (lines, edges []piece, n, squares, pxPerCm float64) {
	type number struct{ line, edge int }
	var used []number
	at := make([]equation, 0, len(f.marks))
	var weights, along []float64
	places := alongLines(f.marks)
	v := f.camera.view(s)
	for i, m := range f.marks {
		if eq, _, ok := v.equations(m); f.weight[i] > 0 && ok {
			used, at, weights, along = append(used, number{m.Line, m.Edge}), append(at, eq[0]), append(weights, f.weight[i]), append(along, places[i])
		}
	}
	order := make([]int, len(used))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if d := used[a].line - used[b].line; d != 0 {
			return d
		}
		return used[a].edge - used[b].edge
	})
	last := number{}
	for k, i := range order {
		if k == 0 || used[i].line != last.line {
			lines = append(lines, piece{})
		}
		if k == 0 || used[i] != last {
			edges = append(edges, piece{line: len(lines) - 1})
		}
		last = used[i]
		r, w := &at[i], weights[i]
		lines[len(lines)-1].take(r, w)
		lines[len(lines)-1].turned(r, w, along[i])
		edges[len(edges)-1].take(r, w)
		n, squares, pxPerCm = n+w, squares+w*r.residual*r.residual, pxPerCm+w*r.pxPerCm
	}
	return lines, edges, n, squares, pxPerCm / max(n, 1e-300)
}

// sharedCovariance fills the lower triangle of the plane's covariance from the
// parts, and from uLineCm, the standard uncertainty of each line's place as
// the reference was made. What the lines are seen to scatter counts towards
// the latter, so the larger of the two holds.
func (f *fitting) sharedCovariance(s state, sigma, uLineCm float64, out *[params * (params + 1) / 2]float64) bool {
	inverse, d, ok := f.inverse(s, sigma)
	if !ok {
		return false
	}
	b := unscaled(inverse, d)
	lines, edges, n, squares, pxPerCm := f.pieces(s)
	p := splitOf(b, lines, edges, n, squares)
	wide := student(p.freedom)
	p.line = max(wide*wide*p.line, floorLinePx*floorLinePx)
	p.edge = max(p.edge, floorEdgePx*floorEdgePx)
	place := max(0, uLineCm*uLineCm-p.line/pxPerCm/pxPerCm)
	var meat square
	for i := range lines {
		meat.add(&lines[i].jacobian, p.line)
		meat.add(&lines[i].jacobianCm, place)
		if f.alike > 1 { // a string is tied at two ends, each off its place by itself
			meat.add(&lines[i].jacobianTurn, p.line)
			meat.add(&lines[i].jacobianTurnCm, place)
		}
	}
	for i := range edges {
		meat.add(&edges[i].jacobian, p.edge)
	}
	for _, lit := range f.lit(s) {
		meat.add(&lit, litShare*litShare)
	}
	if f.alike > 1 {
		f.addRisen(&meat, s)
	}
	v := f.camera.view(s)
	for i, m := range f.marks {
		if eq, _, ok := v.equations(m); f.weight[i] > 0 && ok {
			meat.add(&eq[0].jacobian, f.weight[i]*f.weight[i]*p.mark)
		}
	}
	var prior [params]float64
	prior[8] = sigma * f.alike / f.uK1
	meat.add(&prior, sigma*sigma*f.alike*f.alike)
	for _, r := range f.priorEquations(s, sigma) {
		meat.add(&r.jacobian, sigma*sigma)
	}
	for i := range params {
		left := meat.times(&b[i])
		for j := range i + 1 {
			out[i*(i+1)/2+j] = dot(&left, &b[j])
		}
	}
	return true
}

func meanOf(v []float64) (mean float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	return mean
}

// median is the middle value, of an even count the upper one.
func median(v []float64) float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	return v[len(v)/2]
}

// sortedKeys keeps sums the same from run to run: the order of a map is not.
func sortedKeys[V any](m map[int]V) []int {
	keys := make([]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
