package calibrate

import "fmt"

// A Refusal is the reason why a photo was not scaled. It is a result, not a
// fault: the program prefers it to a guess.
type Refusal struct {
	Reason string   `json:"reason"`         // what was found and what was needed, with numbers
	Retake string   `json:"retake"`         // what a person at the trench can do about it
	Near   Nearness `json:"near,omitempty"` // how near the picture came to the reference
}

// Nearness is how near a picture came to a reference that was refused. Of
// several refusals the nearest tells what a person wants to know.
type Nearness int

const (
	Taken       Nearness = iota - 2 // what was seen belongs to another reference
	Unseen                          // nothing like it was seen
	Like                            // what may be it was seen, but could not be measured: most refusals
	Other                           // its kind was seen well, but of another size, count or number
	Contradicts                     // it was seen well, but its scale contradicts something else that is known
	Either                          // it was seen well, but may as well be another reference that is asked for
)

// Error gives the reason alone.
func (r *Refusal) Error() string { return r.Reason }

// At returns the refusal with how near the picture came.
func (r *Refusal) At(near Nearness) *Refusal {
	r.Near = near
	return r
}

// Refuse makes a Refusal; retake is advice, the rest formats the reason.
func Refuse(retake, format string, args ...any) *Refusal {
	return &Refusal{Reason: fmt.Sprintf(format, args...), Retake: retake}
}
