package calibrate

import "gonum.org/v1/gonum/mat"

// A split is the variance of each part of a mark's error, in px^2, and the
// degrees of freedom that the lines' is known with.
type split struct{ line, edge, mark, freedom float64 }

// splitOf finds the variances by which the sums of squares of lines, of edges
// and of all marks are what is expected of them (Henderson, Biometrics 9(2),
// 1953, pp. 226-252, method 1; compare JCGM 100:2008, H.5). The residuals are
// M e, where M = 1 - J B J' takes out what the fit has taken up, B being the
// inverse of the normal equations; so a group's sum of derivatives is all that
// its expectation needs.
func splitOf(b *square, lines, edges []piece, n, squares float64) split {
	var ofLines, ofEdges square
	for i := range lines {
		ofLines.add(&lines[i].jacobian, 1)
	}
	for i := range edges {
		ofEdges.add(&edges[i].jacobian, 1)
	}
	var seen [3]float64        // sums of squares of lines, edges, marks
	var expected [3][3]float64 // of each, per variance of a line, an edge, a mark
	taken := make([][params]float64, len(lines))
	for i := range lines {
		g := &lines[i]
		taken[i] = b.times(&g.jacobian)
		own := dot(&taken[i], &g.jacobian)
		seen[0] += g.residual * g.residual / g.n
		expected[0][0] += g.n - 2*own + form(&ofLines, &taken[i])/g.n
		expected[0][1] += form(&ofEdges, &taken[i]) / g.n
		expected[0][2] += 1 - own/g.n
	}
	for i := range edges {
		e := &edges[i]
		g := &lines[e.line]
		expected[0][1] += (e.n*e.n - 2*e.n*dot(&taken[e.line], &e.jacobian)) / g.n
		away := b.times(&e.jacobian)
		own := dot(&away, &e.jacobian)
		seen[1] += e.residual * e.residual / e.n
		expected[1][0] += e.n - 2*dot(&away, &g.jacobian) + form(&ofLines, &away)/e.n
		expected[1][1] += e.n - 2*own + form(&ofEdges, &away)/e.n
		expected[1][2] += 1 - own/e.n
	}
	seen[2] = squares
	expected[2] = [3]float64{n - trace(b, &ofLines), n - trace(b, &ofEdges), n - params}

	simple := split{line: squares / max(1, n-params), mark: squares / max(1, n-params), freedom: 1}
	all := mat.NewDense(3, 3, nil)
	for i := range 3 {
		all.SetRow(i, expected[i][:])
	}
	var x mat.VecDense
	if err := x.SolveVec(all, mat.NewVecDense(3, seen[:])); err != nil || !(expected[0][0] > 0) {
		return simple // too few lines or edges to tell the parts apart: all of it is the lines'
	}
	return split{max(0, x.AtVec(0)), max(0, x.AtVec(1)), max(0, x.AtVec(2)), max(1, expected[0][0]*float64(len(lines))/n)}
}

func form(a *square, v *[params]float64) float64 {
	w := a.times(v)
	return dot(&w, v)
}

// trace is that of a b.
func trace(a, b *square) (sum float64) {
	for i := range params {
		for j := range params {
			sum += a[i][j] * b[j][i]
		}
	}
	return sum
}

// student is how much wider than two standard deviations the interval is that
// holds as much of Student's distribution (JCGM 100:2008, G.3; the expansion
// is that of Abramowitz and Stegun, 26.7.5, for 2).
func student(freedom float64) float64 {
	v := max(1, freedom)
	return (2 + 2.5/v + 3.0625/v/v + 2.859/v/v/v) / 2
}

// square is a matrix of the state's elements.
type square [params][params]float64

// add adds weight times v v'.
func (a *square) add(v *[params]float64, weight float64) {
	for i := range params {
		for j := range params {
			a[i][j] += weight * v[i] * v[j]
		}
	}
}

// times is a v.
func (a *square) times(v *[params]float64) (out [params]float64) {
	for i := range params {
		out[i] = dot(&a[i], v)
	}
	return out
}

// unscaled takes what [fitting.inverse] gives to the state's own units.
func unscaled(inverse *mat.SymDense, d [params]float64) *square {
	var b square
	for i := range params {
		for j := range params {
			b[i][j] = inverse.At(i, j) / d[i] / d[j]
		}
	}
	return &b
}

func dot(a, b *[params]float64) (sum float64) {
	for i := range params {
		sum += a[i] * b[i]
	}
	return sum
}
