package calibrate

import (
	"fmt"
	"math"
)

// Pins says which of a mark's two plane coordinates are known.
type Pins int

const (
	PinsBoth Pins = iota // a corner or crossing: U and V are known
	PinsU                // a place on the line U = const; V is not known
	PinsV                // a place on the line V = const; U is not known
)

// A Mark is a place found in a photo and what is known of it on the
// reference's plane. U runs along the reference's first direction, V along its
// second, both in centimetres from the reference's own origin.
type Mark struct {
	At   Point   `json:"at"`
	UCm  float64 `json:"u_cm"` // meaningless under PinsV
	VCm  float64 `json:"v_cm"` // meaningless under PinsU
	Pins Pins    `json:"pins,omitempty"`
	Line int     `json:"line,omitempty"` // marks with one number share an error: a string, a printed edge; 0: none
	Edge int     `json:"edge,omitempty"` // the same for a piece of that line; 0: none

	WidthPx float64 `json:"width_px,omitempty"` // of a string there; 0: not one, or not known
}

// validateMarks refuses marks and a camera that no finder should have made.
func validateMarks(camera Camera, marks []Mark) error {
	if err := camera.Validate(); err != nil {
		return err
	}
	for _, m := range marks {
		if err := m.validate(); err != nil {
			return err
		}
	}
	return nil
}

// validate refuses marks that no finder should have made.
func (m Mark) validate() error {
	for _, v := range []float64{m.At.XPx, m.At.YPx, m.UCm, m.VCm, m.WidthPx} {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e7 {
			return fmt.Errorf("mark at (%g, %g) px for (%g, %g) cm: want finite numbers below 1e7", m.At.XPx, m.At.YPx, m.UCm, m.VCm)
		}
	}
	if m.WidthPx < 0 {
		return fmt.Errorf("mark at (%g, %g) px: width %g px: want 0 or more", m.At.XPx, m.At.YPx, m.WidthPx)
	}
	if m.Pins < PinsBoth || m.Pins > PinsV {
		return fmt.Errorf("mark with pins %d: want 0, 1 or 2", m.Pins)
	}
	return nil
}
