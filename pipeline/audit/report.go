package audit

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

// refusal is why the photo gives no scale and what to do; "": see Refused.
func (p Photo) refusal() string {
	if p.Refused == "" || p.Retake == "" {
		return p.Refused
	}
	return p.Refused + ": " + p.Retake
}

// A Photo is what the audit has to know of one photo.
type Photo struct {
	File       string // slash path below photos/
	Belongs    assign.Belongs
	Scaled     bool               // a plane was fitted
	Reference  calibrate.Kind     // what it was fitted to; "" when not scaled
	Doubts     []string           // what on its plates contradicts something, a sentence each
	Assumed    *Assumed           // of what season.toml alone says how large it is; nil: that is known better, or it is not scaled
	Refused    string             // why what came nearest gives no scale; "": not known, or a person wants none
	Retake     string             // what to do about Refused or Unreadable
	Near       calibrate.Nearness // of that
	Placard    bool               // a jacket's code is read in it: what is like a board may be that
	Unreadable string             // why it could not be read, then Belongs is not looked at; "": it could
	Proposed   string             // why it is proposed as the chosen one of its like; "": it is not
	// ProposedView is what it may show, and why; "": nothing is proposed. It closes no gap.
	ProposedView    register.View
	ProposedViewWhy string
}

// A State says how a view of a jacket stands.
type State string

// The states.
const (
	There     State = "there"
	NotScaled State = "not scaled"       // due or not, there is a photo, but it must be scaled and none is
	NotEnough State = "not enough"       // due or not, it is scaled by what is enough for a small block only, and this one is large
	Missing   State = "missing"          // due, and no photo
	Waived    State = "waived"           // a person closed the gap
	NotDue    State = "not required yet" // no photo, and none is due yet
)

// A ViewState is one view of one jacket.
type ViewState struct {
	View    register.View    `json:"view"`
	DueFrom register.Stage   `json:"due_from"`
	Due     bool             `json:"due"` // at the jacket's stage
	State   State            `json:"state"`
	Text    string           `json:"text"`             // for people: "missing; may be among 60 unsorted photos"
	Files   []string         `json:"files,omitempty"`  // the photos that show it, those that are enough first
	Waiver  *register.Waiver `json:"waiver,omitempty"` // set when State is Waived
}

// Lacks reports whether the view is due and neither there nor waived.
func (v ViewState) Lacks() bool { return v.Due && v.State != There && v.State != Waived }

// Cover answers "ready to jacket?".
type Cover string

// The answers.
const (
	CoverYes     Cover = "yes"
	CoverNo      Cover = "no"
	CoverDone    Cover = "jacketed"       // it is jacketed already
	CoverNoPoint Cover = "does not apply" // a vial, bag, sack, sample, or left in the ground
)

// A Jacket is one jacket's line of the report.
type Jacket struct {
	Number       string           `json:"number"`
	Kind         register.Package `json:"kind,omitempty"`
	Finds        []string         `json:"finds"`
	Formerly     []string         `json:"formerly,omitempty"`   // earlier numbers
	From         string           `json:"from,omitempty"`       // "jacket 14 of Quiet Gully 2025", which it was carried over from
	Stage        register.Stage   `json:"stage,omitempty"`      // "" not recorded
	StageFrom    string           `json:"stage_from,omitempty"` // who says so
	Views        []ViewState      `json:"views"`                // those that the season or the kind asks for, in its order
	Cover        Cover            `json:"cover"`
	CoverReason  string           `json:"cover_reason"`
	Contradicted []Loose          `json:"contradicted,omitempty"` // what contradicts something, with the photo or photos that show it
	Standing     Standing         `json:"standing"`
	Fixes        []Fix            `json:"fixes,omitempty"` // what can still be fixed, the views first
	Photos       int              `json:"photos"`          // readable photos of this jacket that are not left out
	NoView       int              `json:"no_view"`         // of these without a view
}

// Lacks lists the views that are due and neither there nor waived.
func (j Jacket) Lacks() []ViewState {
	var out []ViewState
	for _, v := range j.Views {
		if v.Lacks() {
			out = append(out, v)
		}
	}
	return out
}

// A Loose is a photo that a person has to look at, with the reason.
type Loose struct {
	File      string   `json:"file"`
	Reason    string   `json:"reason"`
	Suggested []string `json:"suggested,omitempty"` // jackets a person may have meant
}

// An Assumed is a reference of which only season.toml says how large it is, in
// the photos of one set-up or of none that is known.
type Assumed struct {
	Reference string   `json:"reference"`        // as on the command line
	SetUp     string   `json:"set_up,omitempty"` // "": none is known
	Confirm   string   `json:"confirm"`          // the least that would confirm it
	Files     []string `json:"files"`
}

// A ProposedView is what a photo of a jacket may show.
type ProposedView struct {
	File   string        `json:"file"`
	Jacket string        `json:"jacket"`
	View   register.View `json:"view"`
	Why    string        `json:"why"`
}

// A Report is what the season lacks: jackets in the register's order, photos in the order given.
type Report struct {
	Jackets       []Jacket       `json:"jackets"`
	Order         []string       `json:"order"`               // the jackets' numbers as in [Report.WorstFirst]
	Unsorted      []Loose        `json:"unsorted,omitempty"`  // readable photos without a jacket, conflicts included
	Conflicts     []Loose        `json:"conflicts,omitempty"` // photos with conflicting jacket numbers or views
	Unreadable    []Loose        `json:"unreadable,omitempty"`
	Proposed      []Loose        `json:"proposed,omitempty"`       // photos that a person may choose among their like; nothing is lacking
	ProposedViews []ProposedView `json:"proposed_views,omitempty"` // what photos may show; none counts until a person confirms it
	Unscaled      []Loose        `json:"unscaled,omitempty"`       // photos without a scale that should have one, or in which something like a reference is seen
	Bare          int            `json:"bare,omitempty"`           // others in which nothing like a reference was found
	Assumed       []Assumed      `json:"assumed,omitempty"`        // scales of a size that nothing confirms; nothing is lacking
	Depths        []Depth        `json:"depths,omitempty"`         // laid grids, and whether their photos tell how deep the bone lies; nothing is lacking
}

// Incomplete reports whether any jacket lacks a view that is due, or contradicts itself.
func (r Report) Incomplete() bool {
	for _, j := range r.Jackets {
		if len(j.Lacks()) > 0 || len(j.Contradicted) > 0 {
			return true
		}
	}
	return false
}
