package calibrate

import (
	"fmt"
	"strings"
)

var barKind = kind{
	name:     KindBar,
	validate: validateBar, parse: parseBar, describe: describeBar, fit: FitBar,
	uRel:  uRelBar,
	step:  func(r Reference) float64 { return r.BlockCm },
	size:  func(r Reference) string { return fmt.Sprintf("blocks of %g cm", r.BlockCm) },
	which: Which{"bar", "blocks", "say which lay there: its ends put by hand; or lay a card beside it"},
	few:   true,
}

func validateBar(r Reference) error {
	if err := r.validSize("length", r.LengthCm); err != nil {
		return err
	}
	if err := r.validSize("block", r.BlockCm); err != nil {
		return err
	}
	if r.BlockCm > r.LengthCm/2 {
		return fmt.Errorf("bar of %g cm with blocks of %g cm: want at least two blocks", r.LengthCm, r.BlockCm)
	}
	return nil
}

func parseBar(r *Reference, text string) (err error) {
	length, block, ok := strings.Cut(text, "/")
	if !ok {
		return fmt.Errorf("want length and block, as 10cm/1cm")
	}
	if r.LengthCm, err = ParseLength(length); err == nil {
		r.BlockCm, err = ParseLength(block)
	}
	return err
}

func describeBar(r Reference) string { return fmt.Sprintf(" %gcm/%gcm", r.LengthCm, r.BlockCm) }

func uRelBar(r Reference) float64 { return r.printedURel(r.LengthCm) }
