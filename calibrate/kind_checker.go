package calibrate

import (
	"fmt"
	"strings"
)

var checkerKind = kind{
	name:     KindChecker,
	thing:    "board",
	validate: validateChecker, parse: parseChecker, describe: describeChecker, fit: FitChecker,
	uRel:    uRelChecker,
	step:    func(r Reference) float64 { return r.SquareCm },
	corners: cornersOfChecker,
	size:    func(r Reference) string { return fmt.Sprintf("squares of %g cm", r.SquareCm) },
	which:   Which{"board", "squares", "say which lay there: its corners put by hand; or lay a card beside it"},
	shows:   true,
}

func validateChecker(r Reference) error {
	if min(r.SquaresAcross, r.SquaresDown) < 4 || max(r.SquaresAcross, r.SquaresDown) > 60 {
		return fmt.Errorf("checker of %d x %d squares: want 4 to 60 each way", r.SquaresAcross, r.SquaresDown)
	}
	return r.validSize("square", r.SquareCm)
}

func parseChecker(r *Reference, text string) (err error) {
	counts, size, ok := strings.Cut(text, "/")
	if !ok {
		return fmt.Errorf("want squares and their side, as 7x5/2cm")
	}
	if r.SquaresAcross, r.SquaresDown, err = ParseCounts(counts); err != nil {
		return err
	}
	r.SquareCm, err = ParseLength(size)
	return err
}

func describeChecker(r Reference) string {
	return fmt.Sprintf(" %dx%d/%gcm", r.SquaresAcross, r.SquaresDown, r.SquareCm)
}

func uRelChecker(r Reference) float64 {
	return r.printedURel(float64(max(r.SquaresAcross, r.SquaresDown)) * r.SquareCm)
}

// cornersOfChecker are its outermost inner corners; the first is as marks name it.
func cornersOfChecker(r Reference) (first, w, h float64, err error) {
	return r.SquareCm, float64(r.SquaresAcross-2) * r.SquareCm, float64(r.SquaresDown-2) * r.SquareCm, nil
}
