package calibrate

import "fmt"

// Called is how a sentence speaks of the reference: "the grid of 10 cm squares".
func (r Reference) Called() string {
	if k, _ := kindOf(r.Kind); k.called != nil {
		return k.called(r)
	}
	return "the " + r.String()
}

// Size is the size that the reference is said to have: "squares of 10 cm".
func (r Reference) Size() string {
	if k, _ := kindOf(r.Kind); k.size != nil {
		return k.size(r)
	}
	return fmt.Sprintf("%g cm", r.LengthCm)
}

// Confirming is the least that would confirm the reference's size where it is assumed.
func (r Reference) Confirming() string {
	if k, _ := kindOf(r.Kind); k.confirm != "" {
		return k.confirm
	}
	return "lay a card once beside it"
}

// A Which is the question which of several references of one kind lay there.
type Which struct {
	Thing string // "grid"
	Unit  string // what has a size in it: "squares"
	Do    string // what a person does about it
}

// Which asks which of several references of this one's kind lay there.
func (r Reference) Which() Which {
	k, _ := kindOf(r.Kind)
	return k.which
}
