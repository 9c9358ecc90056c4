package alike

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"fieldjacket/calibrate/look"
)

// movement estimates by how much b is framed otherwise than a, in cells, where its frame moved most: by shift, by size (a crop) and by
// turn. Small movements only: each cell's difference is what the picture's slope there makes of it (least squares, one step of
// Lucas and Kanade's method, IJCAI 1981, p. 674). A hundredth of a cell, 0.03 % of the picture's side, is far below what a hand keeps
// still between two shots. sure is false where the picture is too even to tell.
func movement(a, b []byte) (cells float64, sure bool) {
	const n, half = look.GreyCells, look.GreyCells / 2.
	if len(a) != n*n || len(b) != n*n {
		return 0, false
	}
	normal, right := mat.NewSymDense(5, nil), mat.NewVecDense(5, nil)
	left := 0.
	for y := 1; y < n-1; y++ {
		for x := 1; x < n-1; x++ {
			at := y*n + x
			gx := (float64(a[at+1]) - float64(a[at-1])) / 2
			gy := (float64(a[at+n]) - float64(a[at-n])) / 2
			u, v := (float64(x)+0.5)/half-1, (float64(y)+0.5)/half-1 // -1 to 1
			row := [5]float64{gx, gy, gx*u + gy*v, gy*u - gx*v, 1}   // shift, size and turn at the frame's edge; brightness
			d := float64(b[at]) - float64(a[at])
			for i := range row {
				right.SetVec(i, right.AtVec(i)+row[i]*d)
				for j := i; j < len(row); j++ {
					normal.SetSym(i, j, normal.At(i, j)+row[i]*row[j])
				}
			}
			left += d * d
		}
	}
	var factors mat.Cholesky
	if !factors.Factorize(normal) {
		return 0, false
	}
	var by mat.VecDense
	var cov mat.SymDense
	if factors.SolveVecTo(&by, right) != nil || factors.InverseTo(&cov) != nil {
		return 0, false
	}
	left = max(left-mat.Dot(&by, right), 0)
	variance := max(left/((n-2)*(n-2)-5), 1./12) // no cell is known better than by its rounding
	for i := range 4 {
		if math.Sqrt(variance*cov.At(i, i)) > leastMove {
			return 0, false
		}
	}
	return math.Hypot(by.AtVec(0), by.AtVec(1)) + math.Hypot(by.AtVec(2), by.AtVec(3)), true
}
