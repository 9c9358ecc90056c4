package calibrate

import (
	"fmt"
	"math"
)

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
	if k, ok := kindOf(r.Kind); ok {
		return k.validate(r)
	}
	return fmt.Errorf("reference kind %q: want %s or %s", r.Kind, kindNames(kinds[:len(kinds)-1]), kinds[len(kinds)-1].name)
}

// String writes a reference as on the command line: "checker 7x5/2cm".
func (r Reference) String() string {
	if k, ok := kindOf(r.Kind); ok {
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
	if k, _ := kindOf(r.Kind); k.uRel != nil {
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
