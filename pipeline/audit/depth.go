package audit

import (
	"fmt"

	"fieldjacket/calibrate/relief"
)

// Photos that tell the depth of what lies under one laid grid, or that would if there were one more.
type Depth struct {
	SetUp   string   `json:"set_up,omitempty"` // "": none is known
	Jackets []string `json:"jackets"`
	Files   []string `json:"files"`    // the photos, slash paths below photos/
	Can     bool     `json:"can"`      // depth can be measured, or was
	Text    string   `json:"text"`     // for people
	Photos  int      `json:"measured"` // how many told it; 0: not measured
}

// AnotherFromTheSide is what a single photo of a laid grid wants.
const AnotherFromTheSide = "one photo more from the side, a step away and lower, turned to the middle, with nothing moved"

// Tell says how it stands with a set's depth: what was measured, or refused; neither: the next run measures it.
func (d *Depth) Tell(found *relief.Depths, refused *relief.Refusal) {
	switch {
	case found != nil && found.IfUnmoved:
		d.Can, d.Photos = true, found.Photos
		d.Text = fmt.Sprintf("yes, measured from %d photos, if the frame did not move; one more from the next side would show that", found.Photos)
	case found != nil:
		d.Can, d.Photos = true, found.Photos
		d.Text = fmt.Sprintf("yes, measured from %d photos", found.Photos)
	case refused != nil:
		d.Text = "no: " + refused.Reason + ": " + refused.Retake
	case len(d.Files) < 2:
		d.Text = AnotherFromTheSide
	default:
		d.Can = true
		d.Text = fmt.Sprintf("yes, from %d photos", len(d.Files))
	}
}
