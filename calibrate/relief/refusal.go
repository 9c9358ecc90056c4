package relief

import "fieldjacket/calibrate"

// Why is the kind of a refusal.
type Why string

const (
	WhyOther   Why = "other lens"  // another phone, lens, zoom or size, or a focal length that is not told
	WhyApart   Why = "apart"       // too long between the photos
	WhyPlaces  Why = "same place"  // the cameras stood too near each other, or too far apart
	WhyReading Why = "reading"     // which string is which cannot be told for certain
	WhyLittle  Why = "too little"  // too little of the ground is seen alike in both
	WhyMoved   Why = "moved"       // frame or ground moved between the photos
	WhyMirror  Why = "mirrored"    // one of them is turned left to right
	WhyStrings Why = "few strings" // not enough of the same strings in both
)

// A Refusal is why photos give no depth: its reason and what to do about it
// are sentences for a person.
type Refusal struct {
	calibrate.Refusal
	Why Why `json:"why"`
}

// Unwrap is the plain refusal.
func (r *Refusal) Unwrap() error { return &r.Refusal }

// refuse makes a Refusal.
func refuse(why Why, retake, format string, args ...any) *Refusal {
	return &Refusal{*calibrate.Refuse(retake, format, args...), why}
}

const (
	retakeSet = "take one photo from straight above, one a step to the side and lower, turned to the middle, and a third likewise from the next side, within minutes and with nothing moved"
)

// NotScaled refuses a set of photos for one whose strings were not scaled.
func NotScaled(name string, why *calibrate.Refusal) *Refusal {
	return refuse(WhyStrings, why.Retake, "%s is not scaled itself: %s", name, why.Reason)
}
