package register

import "slices"

// A Stage is how far a jacket is.
type Stage string

// The stages in their order. "" is "not recorded".
const (
	Found    Stage = "found"
	Exposed  Stage = "exposed"
	Mapped   Stage = "mapped"
	Covered  Stage = "jacketed"
	Flipped  Stage = "flipped"
	Capped   Stage = "capped"
	Lifted   Stage = "lifted"
	Loaded   Stage = "loaded"
	Received Stage = "received"
	Opened   Stage = "opened"
)

// Stages lists all stages in their order.
var Stages = []Stage{Found, Exposed, Mapped, Covered, Flipped, Capped, Lifted, Loaded, Received, Opened}

// Reached reports whether a jacket at stage s has come as far as want. A jacket whose stage is not recorded has reached
// nothing but found: it stands in the register.
func (s Stage) Reached(want Stage) bool {
	return slices.Index(Stages, want) <= max(0, slices.Index(Stages, s))
}

// FormerlyJacketed is what the stage jacketed was called in earlier versions.
const FormerlyJacketed = "covered"

// Now is the stage as it is called now.
func (s Stage) Now() Stage {
	if s == FormerlyJacketed {
		return Covered
	}
	return s
}
