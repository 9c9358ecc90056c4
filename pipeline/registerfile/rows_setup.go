package registerfile

import (
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

func setUpOf(r table.Row) (register.SetUp, bool) {
	name, ok := r.Key()
	if !ok {
		return register.SetUp{}, false
	}
	s := register.SetUp{
		Row: r.Number, Name: name, Jackets: r.List("jackets"),
		PitchCm:        r.Quantity("pitch_cm", 0.1, 500, "centimetres"),
		OriginCorner:   r.Cell("origin_corner"),
		LettersRun:     r.Cell("letters_run"),
		EdgeBearingDeg: r.Quantity("edge_bearing_deg", 0, 360, "degrees"),
		BearingNorth:   northOf(r),
		Plane:          table.Choose(r, "plane", "level", "slope", "vertical"),
		TapeChecks:     tapeChecksOf(r),
		Other:          r.Other(),
		Level:          register.Tidy(r.Cell("level")),
	}
	if across, down, ok := r.Pair("squares", "want squares across and down, such as 10x10"); ok {
		s.Cells = &register.Cells{Across: across, Down: down}
	}
	s.DepthToBoneCm, s.DepthsToBone = depthsOf(r)
	s.Diagonal1Cm, s.Diagonal2Cm = diagonalsOf(r)
	return s, true
}

// depthsOf reads "8", or square by square "B3 8; C4 11". One part that is not understood costs the cell: the depth of one
// square must not pass for that of the whole set-up.
func depthsOf(r table.Row) (whole *float64, squares []register.SquareDepth) {
	const head, lo, hi, unit = "depth_to_bone_cm", 0, 300, "centimetres"
	parts := r.List(head)
	for _, part := range parts {
		words := strings.Fields(part)
		cm, err := r.Sheet.ParseNumber(words[len(words)-1], lo, hi, unit)
		switch {
		case err == nil && len(words) == 2:
			squares = append(squares, register.SquareDepth{Square: words[0], DepthCm: cm})
		case err == nil && len(words) == 1 && len(parts) == 1:
			whole = &cm
		case err != nil && len(words) <= 2:
			r.Reject(head, part, err.Error(), register.LostCell)
			return nil, nil
		default:
			r.Reject(head, part, "want one depth, such as 8, or each square with its own, such as B3 8; C4 11", register.LostCell)
			return nil, nil
		}
	}
	return whole, squares
}

// tapeChecksOf reads "from, to, mm", several separated by semicolons.
func tapeChecksOf(r table.Row) []register.TapeCheck {
	var out []register.TapeCheck
	for _, text := range r.List("tape_check") {
		parts := strings.Split(text, ",")
		if len(parts) == 3 {
			from, to := register.Tidy(parts[0]), register.Tidy(parts[1])
			mm, err := r.Sheet.ParseNumber(register.Tidy(parts[2]), 1, 100000, "millimetres")
			if err == nil && from != "" && to != "" {
				out = append(out, register.TapeCheck{From: from, To: to, LengthMm: mm})
				continue
			}
		}
		r.Reject("tape_check", text, "want from, to and millimetres, such as A1, F6, 707", register.LostCell)
	}
	return out
}

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
