package calibrate

import (
	"fmt"
	"math"
)

// DefaultPickPx is the standard uncertainty of each coordinate of a corner
// that a person put on a photo and nobody says better, in px (common practice,
// no source).
const DefaultPickPx = 3

const (
	minCornerSidePx = 40 // of the outline that a person set
	maxCornerSigmas = 8  // picks' uncertainties per side: shorter outlines are refused

	retakeCorners = "put the four corners clockwise, the first two along the side that is named first, each on its place"
)

// CornersCm are where the four corners lie that a person picks of a reference,
// clockwise as it is seen, from its origin: the outermost inner corners of a
// checkerboard, the outermost crossings of a grid, the corners of a card's
// field of squares.
func (r Reference) CornersCm() (corners [4][2]float64, err error) {
	k, _ := kindOf(r.Kind)
	if k.corners == nil {
		return corners, fmt.Errorf("%s: a %s is not set by four corners: give its two ends as points", r, r.Kind)
	}
	first, w, h, err := k.corners(r)
	if err != nil {
		return corners, err
	}
	return [4][2]float64{{first, first}, {first + w, first}, {first + w, first + h}, {first, first + h}}, nil
}

// Puts is how many places of a reference a person puts on a photo: the two ends
// of a bar or of points, else four corners.
func (r Reference) Puts() int {
	if k, ok := kindOf(r.Kind); ok && k.corners == nil {
		return 2
	}
	return 4
}

// FitCorners makes the plane of a reference whose corners a person put on the
// photo, see [Reference.CornersCm]; pickPx is the standard uncertainty of each
// of their coordinates, and is in U. It refuses corners that run anticlockwise,
// which would mirror the plane, that make no outline, or that no reference of
// that shape shows: sides that do not fit its own, for any likely focal length.
func FitCorners(ref Reference, camera Camera, corners [4]Point, pickPx float64) (*Plane, error) {
	if err := ref.Validate(); err != nil {
		return nil, err
	}
	if !(pickPx > 0 && pickPx < 1e4) {
		return nil, fmt.Errorf("corners picked to %g px: want over 0 and below 10000", pickPx)
	}
	at, err := ref.CornersCm()
	if err != nil {
		return nil, err
	}
	if why := outlineFault(corners, pickPx); why != "" {
		return nil, Refuse(retakeCorners, "%s set by hand: %s", ref.Kind, why)
	}
	marks := make([]Mark, len(corners))
	for i, c := range corners {
		marks[i] = Mark{At: c, UCm: at[i][0], VCm: at[i][1]}
	}
	p, _, err := Fit(ref, camera, marks, FitOptions{FloorPx: pickPx})
	if err != nil {
		return nil, Refuse(retakeCorners, "%s set by hand: its corners do not make a plane: %v", ref.Kind, err)
	}
	shaped := ref
	if ref.Kind != KindGrid {
		exact := 0.0
		shaped.ToleranceCm = &exact // print is square; a frame may be racked
	}
	if err := p.square(shaped); err != nil {
		s := shape(p.h(), 1, 0, 0)
		return nil, Refuse(retakeCorners, "%s set by hand: between these corners its squares would not be square: sides in the ratio %.2f at %.0f degrees",
			ref.Kind, math.Exp(s[1]), 90-s[0]*180/math.Pi)
	}
	if tilt, known := p.TiltDeg(); known && tilt > maxTiltDeg {
		return nil, Refuse("take one squarer from above", "%s set by hand: seen at a tilt of %.0f degrees, limit %d", ref.Kind, tilt, maxTiltDeg)
	}
	return p, nil
}

// Uncounted is the reference without its number of cells, for one of which a
// person put the corners: strings beyond them do not matter.
func (r Reference) Uncounted() Reference {
	r.CellsAcross, r.CellsDown = 0, 0
	return r
}

// outlineFault says why four places are no clockwise outline; "": they are one.
func outlineFault(corners [4]Point, pickPx float64) string {
	left := 0
	for i := range corners {
		a, b, c := corners[i], corners[(i+1)%4], corners[(i+2)%4]
		side := math.Hypot(b.XPx-a.XPx, b.YPx-a.YPx)
		if least := max(minCornerSidePx, maxCornerSigmas*pickPx); !(side >= least) {
			return fmt.Sprintf("a side of %.0f px, need %.0f", side, least)
		}
		if (b.XPx-a.XPx)*(c.YPx-b.YPx)-(b.YPx-a.YPx)*(c.XPx-b.XPx) <= 0 {
			left++
		}
	}
	switch left {
	case 0:
		return ""
	case 4:
		return "its corners run anticlockwise, which would mirror it"
	}
	return "its corners do not go round it"
}
