package registerfile

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// diagonalsOf reads the two taped diagonals of the grid's frame. One alone tells
// nothing, and two of very different lengths are no frame's: nil.
func diagonalsOf(r table.Row) (one, two *float64) {
	one = r.Quantity("diagonal_1_cm", 1, 5000, "centimetres")
	two = r.Quantity("diagonal_2_cm", 1, 5000, "centimetres")
	switch {
	case one == nil && two == nil:
	case one == nil || two == nil:
		head := "diagonal_1_cm"
		if one == nil {
			head = "diagonal_2_cm"
		}
		r.Reject(head, r.Cell(head), "want both diagonals of the frame: one alone does not tell its shape", register.LostCell)
	default:
		frame := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 1, DiagonalsCm: []float64{*one, *two}}
		if err := frame.Validate(); err != nil {
			r.Reject("diagonal_2_cm", r.Cell("diagonal_2_cm"), err.Error(), register.LostCell)
			break
		}
		return one, two
	}
	return nil, nil
}
