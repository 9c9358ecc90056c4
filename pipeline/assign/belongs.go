package assign

import "fieldjacket/pipeline/register"

// A Strength says how a photo came to its jacket.
type Strength string

// The strengths, from strongest to weakest, and what stands where no jacket is settled.
const (
	ByPerson  Strength = "person's word"
	ByCard    Strength = "code in the picture"
	ByName    Strength = "folder or file name"
	Carried   Strength = "carried"
	Suggested Strength = "suggestion" // not settled: Belongs.Suggested only
	Conflict  Strength = "conflict"   // not settled: the signs contradict each other, a person has to say
	None      Strength = "none"       // not settled: nothing names a jacket
)

// A Belongs is what is settled about one photo. Jackets is set only for the strengths ByPerson, ByCard, ByName and
// Carried; every outcome has its Reason.
type Belongs struct {
	Jackets   []string      `json:"jackets,omitempty"` // numbers that the register has; a photo may show several
	Strength  Strength      `json:"strength"`
	Reason    string        `json:"reason"`              // one sentence, lower case, no full stop
	Suggested []string      `json:"suggested,omitempty"` // jackets that a person may have meant; never to be used unasked
	Unsure    bool          `json:"unsure,omitempty"`    // what is suggested goes by a clock in doubt: not to be confirmed for many photos at once
	View      register.View `json:"view,omitempty"`      // "": no view
	ViewFrom  string        `json:"view_from,omitempty"` // who says so, or why contradicting words settle no view
	// ViewConflict: the words for the view contradict each other, a person has to say.
	ViewConflict bool   `json:"view_conflict,omitempty"`
	SetUp        string `json:"setup,omitempty"`
	Caption      string `json:"caption,omitempty"`
	By           string `json:"by,omitempty"` // whose words were used
	Chosen       bool   `json:"chosen,omitempty"`
	LeaveOut     bool   `json:"leave_out,omitempty"`
}

// Contradicts reports whether a person has to settle what the signs contradict each other in.
func (b Belongs) Contradicts() bool { return b.Strength == Conflict || b.ViewConflict }
