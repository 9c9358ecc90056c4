package calibrate

import (
	"fmt"
	"math"
)

// A kind is all that the package goes by of one kind of reference. A new one is its fields in [Reference], its functions in a
// file of its own, and a line here.
type kind struct {
	thing    string                                             // the everyday word; "": its own name
	validate func(r Reference) error                            // what is wrong with its fields, naming value and limit
	parse    func(r *Reference, text string) error              // as the command line writes it
	describe func(r Reference) string                           // the same behind its name
	fit      func(Reference, Camera, []Mark) (*Plane, error)    // its plane from its marks
	uRel     func(r Reference) float64                          // see Reference.uRel; nil: exact
	step     func(r Reference) float64                          // distance of neighbouring lines, cm; nil: its length
	corners  func(r Reference) (first, w, h float64, err error) // first corner and size of what is set by four corners; nil: it is set by its two ends
}

// kinds are all of them.
var kinds map[Kind]kind

func init() { // its functions name references, which go by it
	kinds = map[Kind]kind{
		KindGrid:    {"strings", validateGrid, parseGrid, describeGrid, FitGrid, nil, func(r Reference) float64 { return r.PitchCm }, cornersOfGrid},
		KindBar:     {"", validateBar, parseBar, describeBar, FitBar, uRelBar, func(r Reference) float64 { return r.BlockCm }, nil},
		KindChecker: {"board", validateChecker, parseChecker, describeChecker, FitChecker, uRelChecker, func(r Reference) float64 { return r.SquareCm }, cornersOfChecker},
		KindCard:    {"", Reference.validateCard, parseCard, describeCard, FitCard, Reference.uRelCard, func(Reference) float64 { return cardSquareCm }, cornersOfCard},
		KindPoints:  {"", validatePoints, parsePoints, describePoints, func(r Reference, c Camera, _ []Mark) (*Plane, error) { return FitPoints(r, c) }, uRelPoints, nil, nil},
	}
}

// Thing is the everyday word for a kind of reference.
func Thing(k Kind) string {
	if thing := kinds[k].thing; thing != "" {
		return thing
	}
	return string(k)
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
