package calibrate

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestSolve holds steps against gonum's Cholesky solver, for matrices whose elements differ by orders of magnitude as those of a
// plane do, and wants a singular one refused.
func TestSolve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a square
		var b [params]float64
		for i := range params {
			b[i] = rapid.Float64Range(-1, 1).Draw(t, "b")
			a[i][i] = 0.1
		}
		for range params {
			var v [params]float64
			for i := range v {
				v[i] = rapid.Float64Range(-1, 1).Draw(t, "v")
			}
			a.add(&v, 1)
		}
		dense := mat.NewSymDense(params, nil)
		for i := range params {
			for j := range params {
				a[i][j] *= math.Pow(10, float64(i%4+j%4))
				dense.SetSym(min(i, j), max(i, j), a[min(i, j)][max(i, j)])
			}
		}
		for i := range params {
			for j := range i {
				a[i][j] = math.NaN() // only the upper triangle is given
			}
		}
		var chol mat.Cholesky
		var want mat.VecDense
		if !chol.Factorize(dense) || chol.SolveVecTo(&want, mat.NewVecDense(params, b[:])) != nil {
			t.Fatal("gonum refuses the matrix")
		}
		got, ok := solve(&a, &b)
		if !ok {
			t.Fatal("refused")
		}
		for i := range params {
			if miss := math.Abs(got[i] - want.AtVec(i)); miss > 1e-9*(math.Abs(want.AtVec(i))+math.Pow(10, -float64(i%4))) {
				t.Errorf("element %d: %g, by gonum %g", i, got[i], want.AtVec(i))
			}
		}
	})
	var flat square
	for range 3 { // of rank one
		flat.add(&[params]float64{1, 2, 3, 4, 5, 6, 7, 8, 9}, 1)
	}
	if x, ok := solve(&flat, &[params]float64{1}); ok {
		t.Errorf("a singular matrix gives %v", x)
	}
}
