package calibrate

// Known is how well the size of a reference is known in a photo.
type Known string

const (
	Assumed   Known = "assumed"   // the season or nobody but the sheet says so
	Said      Known = "said"      // a person or the set-up says so of this photo
	Confirmed Known = "confirmed" // something else of known size agrees
)

// A Size is how the size of a sighting's reference is known: no picture by
// itself tells squares of 10 cm from squares of 5 cm.
type Size struct {
	Known   Known    `json:"known"`
	By      string   `json:"by,omitempty"`      // what agrees, with its figure, or who says so
	Photo   string   `json:"photo,omitempty"`   // another photo, in which it was confirmed; "": this one
	Against []string `json:"against,omitempty"` // what speaks against it, a sentence each
}
