package audit

import (
	"fmt"
	"strings"

	"fieldjacket/calibrate/relief"
)

// A Depth is photos that tell the depth of what lies under one laid grid, or that would if there were one more.
type Depth struct {
	SetUp   string   `json:"set_up,omitempty"` // "": none is known
	Jackets []string `json:"jackets"`
	Files   []string `json:"files"`    // the photos, slash paths below photos/
	Can     bool     `json:"can"`      // depth can be measured, or was
	Text    string   `json:"text"`     // for people
	Photos  int      `json:"measured"` // how many told it; 0: not measured
}

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
		var names []string
		for _, f := range d.Files {
			names = append(names, called(f))
		}
		d.Text = "no, by " + strings.Join(names, ", ") + ": " + refused.Reason + ": " + refused.Retake
	case len(d.Files) < 2:
		d.Text = "one photo more from the side, a step away and lower, turned to the middle, with nothing moved"
	default:
		d.Can = true
		d.Text = fmt.Sprintf("yes, from %d photos", len(d.Files))
	}
}
