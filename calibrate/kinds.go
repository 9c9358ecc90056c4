package calibrate

import (
	"fmt"
	"math"
	"strings"
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

// kinds are all of them, in the order in which they are named to people. A new kind is its name and fields above, a file kind_NAME.go
// that says all that is gone by of it, and its place here.
var kinds []kind

func init() { // their functions ask references, which go by this
	kinds = []kind{gridKind, barKind, checkerKind, cardKind, pointsKind}
}

// A kind is all that is gone by of one kind of reference.
type kind struct {
	name  Kind
	thing string // the everyday word; "": its name

	validate func(r Reference) error                         // what is wrong with its fields, naming value and limit
	parse    func(r *Reference, text string) error           // as the command line writes it
	describe func(r Reference) string                        // the same behind its name
	fit      func(Reference, Camera, []Mark) (*Plane, error) // its plane from its marks

	uRel    func(r Reference) float64                          // see Reference.uRel; nil: exact
	step    func(r Reference) float64                          // distance of neighbouring lines, cm; nil: its length
	corners func(r Reference) (first, w, h float64, err error) // first corner and size of what is set by four corners; nil: it is set by its two ends

	called  func(r Reference) string // how a sentence speaks of it; nil: "the " and as it is described
	size    func(r Reference) string // what it is said to have; nil: its length
	which   Which
	confirm string // the least that would confirm its size; "": a card beside it

	few   bool // its marks are too few to tell how a lens stretches the picture
	shows bool // a photo of a block that it is in is the gridded view without anybody saying so
}

// kindOf is what is gone by of a kind; false: there is no such kind.
func kindOf(name Kind) (kind, bool) {
	for _, k := range kinds {
		if k.name == name {
			return k, true
		}
	}
	return kind{}, false
}

func kindNames(of []kind) string {
	names := make([]string, len(of))
	for i, k := range of {
		names[i] = string(k.name)
	}
	return strings.Join(names, ", ")
}

// Thing is the everyday word for a kind of reference.
func Thing(name Kind) string {
	if k, _ := kindOf(name); k.thing != "" {
		return k.thing
	}
	return string(name)
}

// Few tells whether marks of the kind are too few to tell how a lens stretches the picture.
func (name Kind) Few() bool {
	k, _ := kindOf(name)
	return k.few
}

// Shows tells whether a photo of a block with a reference of the kind is the gridded view without anybody saying so.
func (name Kind) Shows() bool {
	k, _ := kindOf(name)
	return k.shows
}

// validSize tells what is wrong with a length of a reference.
func (r Reference) validSize(name string, cm float64) error {
	if !(cm > 0.01 && cm <= 1e5) {
		return fmt.Errorf("%s %s %g cm: want over 0.01 and at most 100000", r.Kind, name, cm)
	}
	return nil
}

// printedURel is uRel of a printed reference of a length: it is stretched as a whole.
func (r Reference) printedURel(lengthCm float64) float64 {
	if r.ToleranceCm != nil {
		return *r.ToleranceCm / lengthCm / math.Sqrt(3)
	}
	return 0.002 / math.Sqrt(3)
}
