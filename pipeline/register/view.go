package register

import (
	"cmp"
	"slices"
)

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

// viewTraits is all that the program goes by of a view: a new one is a name above and a line here.
var viewTraits = []viewTrait{
	{View: ViewSetting, due: Found, until: Covered, shows: "the find where it lies, with its surroundings"},
	{View: ViewBone, due: Exposed, until: Covered, fieldTop: true, bareBone: true, shows: "the whole exposed bone from above"},
	{View: ViewGridded, due: Mapped, until: Covered, fieldTop: true, bareBone: true, shows: "the bone under the whole grid, from above"},
	{View: ViewJacketed, due: Covered, until: Opened, plaster: true, shows: "the closed jacket, its number, arrow and FIELD TOP legible"},
	{View: ViewUnderside, due: Flipped, until: Capped, turned: true, shows: "the underside, before the cap"},
	{View: ViewClose},
	{View: ViewEnds, fieldTop: true},
	{View: ViewJoint},
	{View: ViewSection},
	{View: ViewLoading, elsewhere: true},
	{View: ViewReceived, elsewhere: true},
	{View: ViewOpened, elsewhere: true},
}

// A viewTrait is a view with what holds of it.
type viewTrait struct {
	View
	due       Stage // the stage from which it is due where season.toml has no [views] table (common practice, no source); "": never
	until     Stage // from which it can no longer be taken; "": any time (common practice, no source)
	shows     string
	fieldTop  bool // it shows the side that showed in the field
	bareBone  bool // the whole bone lies bare in it
	plaster   bool // it shows plaster and no bone
	turned    bool // the block is turned over
	elsewhere bool // it is taken where the jacket is by then, not where it was found
}

// Views lists all views.
var Views = func() (all []View) {
	for _, t := range viewTraits {
		all = append(all, t.View)
	}
	return all
}()

// DefaultDue is what is due in a season whose season.toml has no [views] table.
var DefaultDue = func() (due []DueView) {
	for _, t := range viewTraits {
		if t.due != "" {
			due = append(due, DueView{t.View, t.due})
		}
	}
	return due
}()

// Known reports whether v is one of [Views].
func (v View) Known() bool { return slices.Contains(Views, v) }

// traits are what holds of v; of "no view" and of words that are none nothing does.
func (v View) traits() viewTrait {
	if i := slices.Index(Views, v); i >= 0 {
		return viewTraits[i]
	}
	return viewTrait{}
}

// TooLate reports whether the view can no longer be taken of a jacket at that stage.
func (v View) TooLate(at Stage) bool {
	until := v.traits().until
	return until != "" && at.Reached(until)
}

// Shows says what is to be photographed for it.
func (v View) Shows() string { return cmp.Or(v.traits().shows, string(v)) }

// FieldTop reports whether it shows the side of the block that showed in the field.
func (v View) FieldTop() bool { return v.traits().fieldTop }

// BareBone reports whether the whole bone lies bare in it.
func (v View) BareBone() bool { return v.traits().bareBone }

// Plaster reports whether it shows plaster and no bone.
func (v View) Plaster() bool { return v.traits().plaster }

// Turned reports whether it shows the block turned over.
func (v View) Turned() bool { return v.traits().turned }

// Elsewhere reports whether it is taken where the jacket is by then, not where it was found.
func (v View) Elsewhere() bool { return v.traits().elsewhere }

// Displaced reports whether it shows a block that lies no longer as it did.
func (v View) Displaced() bool { return v.Turned() || v.Elsewhere() }

// A DueView is a view and the stage from which it is due.
type DueView struct {
	View  View  `json:"View"`
	Stage Stage `json:"Stage"`
}
