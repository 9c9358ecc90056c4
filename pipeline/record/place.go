package record

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/locate"
)

// A Where is the place of a photo.
type Where struct {
	locate.Place
	UM   *float64 `json:"u_m,omitempty"` // k = 2 from a track, as the phone says it otherwise; nil: not said
	From string   `json:"from"`          // "the phone", "track walk.gpx"
	// Of is the find or locality that the photo shows, and AwayM how far from it the photo was taken; "": neither has a position.
	Of    string  `json:"of,omitempty"`
	AwayM float64 `json:"away_m,omitempty"`
}

// A DepthBetween is how far one reference of a photo lies behind another as the
// camera sees them: a bar on the bone under strings.
type DepthBetween struct {
	Of      string             `json:"of"`     // the farther reference, as on the command line
	Behind  string             `json:"behind"` // the nearer one
	DepthCm calibrate.Quantity `json:"depth_cm"`
}

func (l DepthBetween) String() string {
	return fmt.Sprintf("%s lies %s cm below %s, as the camera sees it", l.Of, l.DepthCm, l.Behind)
}
