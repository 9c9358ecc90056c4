package calibrate

import "fmt"

// A Refusal is the reason why a photo was not scaled. It is a result, not a
// fault: the program prefers it to a guess.
type Refusal struct {
	Reason string `json:"reason"` // what was found and what was needed, with numbers
	Retake string `json:"retake"` // what a person at the trench can do about it
}

// Error gives the reason alone.
func (r *Refusal) Error() string { return r.Reason }

// Refuse makes a Refusal; retake is advice, the rest formats the reason.
func Refuse(retake, format string, args ...any) *Refusal {
	return &Refusal{Reason: fmt.Sprintf(format, args...), Retake: retake}
}
