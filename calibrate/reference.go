package calibrate

import (
	"fmt"
	"math"
)

// A Kind is a kind of reference.
type Kind string

// The kinds of reference.
const (
	KindChecker Kind = "checker" // a printed checkerboard
	KindPoints  Kind = "points"  // two places given by hand and the distance between them
	KindGrid    Kind = "grid"    // strings or wires at one pitch both ways
	KindBar     Kind = "bar"     // alternating blocks in a row
	KindCard    Kind = "card"    // our own printed card
)

// A Reference is a thing of known size in the picture. Only the fields of its
// own kind are set.
type Reference struct {
	Name          string    `json:"name,omitempty"` // as the season calls it; empty on the command line
	Kind          Kind      `json:"kind"`
	SquaresAcross int       `json:"squares_across,omitempty"` // checker: squares (not inner corners), either way round
	SquaresDown   int       `json:"squares_down,omitempty"`
	SquareCm      float64   `json:"square_cm,omitempty"`
	PitchCm       float64   `json:"pitch_cm,omitempty"` // grid
	CellsAcross   int       `json:"cells_across,omitempty"`
	CellsDown     int       `json:"cells_down,omitempty"`
	LengthCm      float64   `json:"length_cm,omitempty"`     // bar, points
	BlockCm       float64   `json:"block_cm,omitempty"`      // bar
	SquareBlocks  bool      `json:"square_blocks,omitempty"` // bar: its blocks are as high as they are long
	Card          int       `json:"card,omitempty"`          // card: its number; 0: any
	CheckLineMm   *float64  `json:"check_line_mm,omitempty"` // card: its printed line of 100 mm as measured; nil: never measured
	From          *Point    `json:"from,omitempty"`          // points
	To            *Point    `json:"to,omitempty"`
	PickPx        float64   `json:"pick_px,omitempty"`      // points: standard uncertainty of each coordinate, px; 0: exact
	DiagonalsCm   []float64 `json:"diagonals_cm,omitempty"` // grid: both diagonals of its frame, taped; nil: not taped
	TilesInCm     *float64  `json:"tiles_in_cm,omitempty"`  // grid: from its outermost strings to the middle of the tiles at its frame's corners, inwards; nil: it carries none
	ToleranceCm   *float64  `json:"tolerance_cm,omitempty"`
}

// Checker makes the reference of a printed board of across x down squares;
// the outermost squares need not be whole. It needs four squares each way,
// since only inner corners count.
func Checker(across, down int, squareCm float64) (Reference, error) {
	r := Reference{Kind: KindChecker, SquaresAcross: across, SquaresDown: down, SquareCm: squareCm}
	return r, r.Validate()
}

// Points makes the reference of two places of a photo, lengthCm apart.
func Points(from, to Point, lengthCm float64) (Reference, error) {
	r := Reference{Kind: KindPoints, From: &from, To: &to, LengthCm: lengthCm}
	return r, r.Validate()
}

// Validate tells what is wrong with a reference, naming value and limit.
func (r Reference) Validate() error {
	if r.ToleranceCm != nil && !(*r.ToleranceCm >= 0 && *r.ToleranceCm <= 100) {
		return fmt.Errorf("tolerance %g cm: want 0 to 100", *r.ToleranceCm)
	}
	if k, ok := kinds[r.Kind]; ok {
		return k.validate(r)
	}
	return fmt.Errorf("reference kind %q: want grid, bar, checker, card or points", r.Kind)
}

// String writes a reference as on the command line: "checker 7x5/2cm".
func (r Reference) String() string {
	if k, ok := kinds[r.Kind]; ok {
		return string(r.Kind) + k.describe(r)
	}
	return string(r.Kind)
}

// uRel is the relative standard uncertainty that the reference's own making
// puts on every length. The tolerance is the half-width of a rectangular
// distribution (JCGM 100:2008, 4.3.7), so u = a/sqrt(3). A printed reference
// is stretched as a whole, by its tolerance over its length; the default is
// 0.2 % of that length (common practice, no source). Points are exact unless
// a tolerance is given, which then holds at each of the two.
func (r Reference) uRel() float64 {
	if k := kinds[r.Kind]; k.uRel != nil {
		return k.uRel(r)
	}
	return 0
}

// LineUCm is the standard uncertainty of the place of one string of a grid:
// its tolerance (3 mm where none is given) is the half-width of a rectangular
// distribution.
func (r Reference) LineUCm() float64 {
	if r.Kind != KindGrid {
		return 0
	}
	if r.ToleranceCm != nil {
		return *r.ToleranceCm / math.Sqrt(3)
	}
	return 0.3 / math.Sqrt(3)
}
