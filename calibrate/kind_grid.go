package calibrate

import (
	"fmt"
	"math"
)

var gridKind = kind{
	name:     KindGrid,
	thing:    "strings",
	validate: validateGrid, parse: parseGrid, describe: describeGrid, fit: FitGrid,
	step:    func(r Reference) float64 { return r.PitchCm },
	corners: cornersOfGrid,
	called:  func(r Reference) string { return fmt.Sprintf("the grid of %g cm squares", r.PitchCm) },
	size:    func(r Reference) string { return fmt.Sprintf("squares of %g cm", r.PitchCm) },
	which:   Which{"grid", "squares", "say which lay there: pitch_cm of the photo's set-up, or the corners put by hand; a card laid once beside the frame tells it for the whole set-up, the squares of both frames in season.toml often"},
	confirm: "lay a card once beside this frame",
	shows:   true,
}

func validateGrid(r Reference) error {
	if (r.CellsAcross != 0 || r.CellsDown != 0) && (min(r.CellsAcross, r.CellsDown) < 1 || max(r.CellsAcross, r.CellsDown) > 200) {
		return fmt.Errorf("grid of %d x %d squares: want 1 to 200 each way", r.CellsAcross, r.CellsDown)
	}
	if err := r.validateDiagonals(); err != nil {
		return err
	}
	if t := r.TilesInCm; t != nil && !(math.Abs(*t) <= maxTilesInCm) {
		return fmt.Errorf("tiles_in_cm %g: want -%d to %d, the middle of each tile from the outermost strings", *t, maxTilesInCm, maxTilesInCm)
	}
	return r.validSize("pitch", r.PitchCm)
}

func parseGrid(r *Reference, text string) (err error) {
	r.PitchCm, err = ParseLength(text)
	return err
}

func describeGrid(r Reference) string {
	text := fmt.Sprintf(" %gcm", r.PitchCm)
	if r.CellsAcross > 0 {
		text += fmt.Sprintf(" of %dx%d squares", r.CellsAcross, r.CellsDown)
	}
	return text
}

// cornersOfGrid are its outermost crossings.
func cornersOfGrid(r Reference) (first, w, h float64, err error) {
	if r.CellsAcross == 0 {
		return 0, 0, 0, fmt.Errorf("%s: say how many squares lie between the corners, such as 10x10", r)
	}
	return 0, float64(r.CellsAcross) * r.PitchCm, float64(r.CellsDown) * r.PitchCm, nil
}
