package register

import "slices"

// A Stage is how far a jacket is.
type Stage string

// The stages in their order. "" is "not recorded".
const (
	Found    Stage = "found"
	Exposed  Stage = "exposed"
	Mapped   Stage = "mapped"
	Covered  Stage = "covered"
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

// A View is what a photo shows.
type View string

// The views. "" is "no view", which most photos have.
const (
	ViewSetting   View = "setting"   // the find where it lies, the surroundings in the picture; one may serve several finds
	ViewBone      View = "bone"      // the bone exposed, before it is covered
	ViewGridded   View = "gridded"   // under a grid, or with another reference that is enough for the block's size
	ViewJacketed  View = "jacketed"  // the closed jacket, its number, arrow and FIELD TOP legible
	ViewUnderside View = "underside" // after the flip, before the cap
	ViewClose     View = "close"
	ViewEnds      View = "ends"
	ViewJoint     View = "joint"
	ViewSection   View = "section"
	ViewLoading   View = "loading"
	ViewReceived  View = "received"
	ViewOpened    View = "opened"
)

// Views lists all views.
var Views = []View{ViewSetting, ViewBone, ViewGridded, ViewJacketed, ViewUnderside, ViewClose, ViewEnds, ViewJoint,
	ViewSection, ViewLoading, ViewReceived, ViewOpened}

// Known reports whether v is one of [Views].
func (v View) Known() bool { return slices.Contains(Views, v) }

// A DueView is a view and the stage from which it is due.
type DueView struct {
	View  View  `json:"View"`
	Stage Stage `json:"Stage"`
}

// DefaultDue is what is due in a season whose season.toml has no [views] table (common practice, no source).
var DefaultDue = []DueView{
	{ViewSetting, Found}, {ViewBone, Exposed}, {ViewGridded, Mapped}, {ViewJacketed, Covered}, {ViewUnderside, Flipped},
}
