package calibrate

// A Sighting is one reference looked for in one photo: its plane, or the
// reason for none. Exactly one of Plane and Refused is set.
type Sighting struct {
	Reference Reference `json:"reference"`
	Plane     *Plane    `json:"plane,omitempty"`
	Refused   *Refusal  `json:"refused,omitempty"`
	Counted   string    `json:"counted,omitempty"` // what was counted, in words: "6 x 4 inner corners"
	Tiled     *Tiled    `json:"tiled,omitempty"`   // grid: what the tiles at its frame's corners tell
	Size      *Size     `json:"size,omitempty"`    // how the reference's size is known; nil: there is no plane
	By        string    `json:"by,omitempty"`      // initials of who put it in the photo by hand; "": it was found
	Denied    *Denied   `json:"denied,omitempty"`  // grid: what in this very photo proves that it is of another size
}

// A Denied is the proof that a grid is of another size than its reference.
type Denied struct {
	By    string `json:"by"`    // what proves it, in words
	Cells [2]int `json:"cells"` // that were counted of the grid
}

// FitReference makes the plane of a reference of any kind from its marks. An
// error is a *Refusal where the photo is to blame.
func FitReference(ref Reference, camera Camera, marks []Mark) (*Plane, error) {
	if k, ok := kindOf(ref.Kind); ok {
		return k.fit(ref, camera, marks)
	}
	return nil, Refuse("name another reference", "%s: this version does not look for a %s", ref, ref.Kind)
}
