package register

import "fieldjacket/calibrate"

// A SetUp is one laying of a grid: one row of the setups sheet. Texts are as typed, "" and nil are "not recorded".
type SetUp struct {
	Row            int
	Name           string   // the "setup" column
	Jackets        []string // numbers as typed
	PitchCm        *float64
	Cells          *Cells
	OriginCorner   string // where square A1 lies, as typed
	LettersRun     string // which way the letters run, as typed
	EdgeBearingDeg *float64
	BearingNorth   North         // of the edge bearing
	Plane          string        // "level", "slope" or "vertical"
	DepthToBoneCm  *float64      // from the strings down to the bone, one for the whole set-up
	DepthsToBone   []SquareDepth // or square by square
	Diagonal1Cm    *float64
	Diagonal2Cm    *float64
	TapeChecks     []TapeCheck
	Other          []Other
}

// Cells is how many squares a grid has.
type Cells struct{ Across, Down int }

// A SquareDepth is the depth from the strings down to the bone in one square.
type SquareDepth struct {
	Square  string
	DepthCm float64
}

// A TapeCheck is a length measured with a tape between two places, to hold against the plate.
type TapeCheck struct {
	From, To string
	LengthMm float64
}

// diagonals reads the two taped diagonals of the grid's frame. One alone tells
// nothing, and two of very different lengths are no frame's: nil.
func (r row) diagonals() (one, two *float64) {
	one = r.quantity("diagonal_1_cm", 1, 5000, "centimetres")
	two = r.quantity("diagonal_2_cm", 1, 5000, "centimetres")
	switch {
	case one == nil && two == nil:
	case one == nil || two == nil:
		head := "diagonal_1_cm"
		if one == nil {
			head = "diagonal_2_cm"
		}
		r.reject(head, r.cell(head), "want both diagonals of the frame: one alone does not tell its shape", LostCell)
	default:
		frame := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 1, DiagonalsCm: []float64{*one, *two}}
		if err := frame.Validate(); err != nil {
			r.reject("diagonal_2_cm", r.cell("diagonal_2_cm"), err.Error(), LostCell)
			break
		}
		return one, two
	}
	return nil, nil
}
