package relief

import (
	"math"
	"time"

	"fieldjacket/calibrate"
)

// mostApart is the longest time between photos of one set.
const mostApart = 15 * time.Minute

// A Shot is what a photo's file says of how it was taken.
type Shot struct {
	Name   string
	Camera calibrate.Camera
	Lens   string    // phone, as it names itself; "": not told
	Zoom   float64   // digital; 0: not told
	Taken  time.Time // by the phone's own clock; zero: not told
}

// Belong tells by the files alone why photos cannot be taken together; nil:
// nothing speaks against it.
func Belong(shots []Shot) *Refusal {
	first := shots[0]
	for k, s := range shots {
		if _, _, known := s.Camera.FocalPx(); !known {
			return refuse(WhyOther, "use the original photos of the phone, which carry the focal length", "%s does not tell its focal length, so where the camera stood is not known", s.Name)
		}
		if k == 0 {
			continue
		}
		a, b := first.Camera, s.Camera
		same := max(a.WidthPx, a.HeightPx) == max(b.WidthPx, b.HeightPx) && min(a.WidthPx, a.HeightPx) == min(b.WidthPx, b.HeightPx)
		if !same || a.Focal35Mm != b.Focal35Mm || s.Lens != first.Lens || max(s.Zoom, 1) != max(first.Zoom, 1) {
			return refuse(WhyOther, "take all photos of a set with one phone and one lens, without zoom", "%s was not taken with the phone, lens, zoom and size of %s", s.Name, first.Name)
		}
		if !s.Taken.IsZero() && !first.Taken.IsZero() {
			if apart := s.Taken.Sub(first.Taken).Abs(); apart > mostApart {
				return refuse(WhyApart, retakeSet, "%s was taken %.0f minutes from %s, limit %.0f: much can have moved", s.Name, math.Ceil(apart.Minutes()), first.Name, mostApart.Minutes())
			}
		}
	}
	return nil
}
