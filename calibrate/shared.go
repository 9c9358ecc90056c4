package calibrate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Marks on one string share that string's error, and marks on one piece of it
// share that piece's: the string lies off its place, a shadow runs along it.
// Taken as independent, hundreds of marks would promise an uncertainty that
// twenty strings cannot keep. The residual of a mark is therefore split into
// an offset of its line, an offset of its edge, and what is the mark's own;
// each part is propagated as it acts (JCGM 100:2008, 5.2.2 and F.1.2.3: the
// errors of one line are fully correlated).
const (
	floorLinePx = 0.04 // least standard uncertainty of a line's offset
	floorEdgePx = 0.03 // of an edge's
	widenShared = 1.2  // for what the split leaves out: bending across several edges, profiles that lean
)

// split is the standard uncertainty of each part, in px.
type split struct{ line, edge, mark float64 }

// parts splits the residuals of the marks that carry the fit.
func (f *fitting) parts(s state) split {
	lines, edges := map[int][]float64{}, map[int][]float64{}
	v := f.camera.view(s)
	for i, m := range f.marks {
		rows, _, ok := v.rows(m)
		if f.weight[i] == 0 || !ok || m.Line == 0 {
			continue
		}
		lines[m.Line] = append(lines[m.Line], rows[0].miss)
		edges[m.Edge] = append(edges[m.Edge], rows[0].miss)
	}
	lineMean := meansOf(lines)
	var sumLine, sumEdge, sumMark float64
	nMark := 0
	for _, k := range sortedKeys(lineMean) {
		sumLine += lineMean[k] * lineMean[k]
	}
	edgeLine := map[int]int{}
	for _, m := range f.marks {
		edgeLine[m.Edge] = m.Line
	}
	for _, e := range sortedKeys(edges) {
		mean := meanOf(edges[e])
		off := mean - lineMean[edgeLine[e]]
		sumEdge += off * off
		for _, r := range edges[e] {
			sumMark += (r - mean) * (r - mean)
			nMark++
		}
	}
	// A plane bends to its lines with eight numbers; an edge's offset is
	// counted from its line's.
	line := math.Sqrt(sumLine / max(1, float64(len(lines)-8)))
	edge := math.Sqrt(sumEdge / max(1, float64(len(edges)-len(lines)-4)))
	mark := math.Sqrt(sumMark / max(1, float64(nMark-len(edges))))
	return split{max(line, floorLinePx), max(edge, floorEdgePx), mark}
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
	p := f.parts(s)
	meat := mat.NewSymDense(params, nil)
	lines, places, edges := map[int]*[params]float64{}, map[int]*[params]float64{}, map[int]*[params]float64{}
	scaleSum, n := 0.0, 0.0
	v := f.camera.view(s)
	for i, m := range f.marks {
		rows, _, ok := v.rows(m)
		if f.weight[i] == 0 || !ok {
			continue
		}
		r, w := rows[0], f.weight[i]
		rank(meat, &r.by, w*w*p.mark*p.mark)
		gather(lines, m.Line, &r.by, w)
		gather(places, m.Line, &r.by, w*r.pxPerCm)
		gather(edges, m.Edge, &r.by, w)
		scaleSum, n = scaleSum+r.pxPerCm, n+1
	}
	seen := p.line * n / scaleSum // cm
	place := math.Sqrt(max(0, uLineCm*uLineCm-seen*seen))
	for _, k := range sortedKeys(lines) {
		rank(meat, lines[k], p.line*p.line)
		rank(meat, places[k], place*place)
	}
	for _, k := range sortedKeys(edges) {
		rank(meat, edges[k], p.edge*p.edge)
	}
	var prior [params]float64
	prior[8] = sigma / f.uK1
	rank(meat, &prior, sigma*sigma)
	for _, r := range f.believed(s, sigma) {
		rank(meat, &r.by, sigma*sigma)
	}
	// inverse is in units of d: bring the meat to them, multiply, bring back.
	for i := range params {
		for j := i; j < params; j++ {
			meat.SetSym(i, j, meat.At(i, j)/d[i]/d[j])
		}
	}
	var half, full mat.Dense
	half.Mul(inverse, meat)
	full.Mul(&half, inverse)
	for i := range params {
		for j := range i + 1 {
			out[i*(i+1)/2+j] = widenShared * widenShared * full.At(i, j) / d[i] / d[j]
		}
	}
	return true
}

func rank(a *mat.SymDense, v *[params]float64, weight float64) {
	for i := range params {
		for j := i; j < params; j++ {
			a.SetSym(i, j, a.At(i, j)+weight*v[i]*v[j])
		}
	}
}

func gather(sums map[int]*[params]float64, key int, by *[params]float64, weight float64) {
	sum := sums[key]
	if sum == nil {
		sum = new([params]float64)
		sums[key] = sum
	}
	for i := range params {
		sum[i] += weight * by[i]
	}
}

func meanOf(v []float64) (mean float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	return mean
}

func meansOf(groups map[int][]float64) map[int]float64 {
	out := make(map[int]float64, len(groups))
	for k, v := range groups {
		out[k] = meanOf(v)
	}
	return out
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
