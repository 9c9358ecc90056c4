package calibrate

import (
	"fmt"
	"math"
)

const (
	// Diagonal35Mm is the diagonal of the 36 mm x 24 mm frame that EXIF's
	// FocalLengthIn35mmFilm (tag 0xA405, Exif 2.2) is stated for.
	Diagonal35Mm = 43.2666

	// uFocalRel is the relative standard uncertainty of a focal length taken
	// from that tag: it is a whole number, and makers round freely. No
	// published figure; 5 % covers rounding at 20 mm (2.5 %) and the crop of
	// in-camera stabilisation.
	uFocalRel = 0.05

	// uK1 is the standard uncertainty of the radial lens term before a mark
	// is seen. Phones correct their lenses in camera, and what is left moves
	// the picture's corner by a few per mille. No published figure.
	uK1 = 0.03

	// maxK1 is the strongest radial term that is believed (an action camera
	// has about -0.3).
	maxK1 = 0.6
)

// A Point is a place in a photo, in pixels of the upright picture.
type Point struct {
	XPx float64 `json:"x_px"`
	YPx float64 `json:"y_px"`
}

// A Camera is what is known of the camera behind one photo.
type Camera struct {
	WidthPx   int     `json:"width_px"` // of the upright picture
	HeightPx  int     `json:"height_px"`
	Focal35Mm float64 `json:"focal_35_mm,omitempty"` // EXIF FocalLengthIn35mmFilm of the uncropped picture; 0, as in EXIF: not known
}

// Validate tells whether the picture's size is usable.
func (c Camera) Validate() error {
	if c.WidthPx < 2 || c.HeightPx < 2 {
		return fmt.Errorf("picture of %d x %d px: want at least 2 x 2", c.WidthPx, c.HeightPx)
	}
	if math.IsNaN(c.Focal35Mm) || c.Focal35Mm < 0 || c.Focal35Mm > 2000 {
		return fmt.Errorf("35 mm focal length of %g mm: want 0 (not known) to 2000", c.Focal35Mm)
	}
	return nil
}

// FocalPx gives the focal length in pixels with its relative standard
// uncertainty, and false where the photo does not tell.
func (c Camera) FocalPx() (focalPx, uRel float64, known bool) {
	if c.Focal35Mm == 0 {
		return 0, 0, false
	}
	diagonal := math.Hypot(float64(c.WidthPx), float64(c.HeightPx))
	return c.Focal35Mm / Diagonal35Mm * diagonal, uFocalRel, true
}

// unit is the number of pixels that count as one in the normalised picture:
// the focal length, or three quarters of the long side where it is not known.
func (c Camera) unit() float64 {
	if f, _, ok := c.FocalPx(); ok {
		return f
	}
	return 0.75 * float64(max(c.WidthPx, c.HeightPx))
}

// centre is the principal point: the middle of the picture.
func (c Camera) centre() (x, y float64) {
	return float64(c.WidthPx-1) / 2, float64(c.HeightPx-1) / 2
}

// normalise takes a photo point to the normalised, still bent picture.
func (c Camera) normalise(p Point) (x, y float64) {
	cx, cy := c.centre()
	unit := c.unit()
	return (p.XPx - cx) / unit, (p.YPx - cy) / unit
}

// photo takes a point of the normalised bent picture back to pixels.
func (c Camera) photo(x, y float64) Point {
	cx, cy := c.centre()
	unit := c.unit()
	return Point{x*unit + cx, y*unit + cy}
}

// bend applies the lens: straight normalised coordinates to bent ones,
// x_d = x (1 + k1 r^2).
func bend(x, y, k1 float64) (xd, yd float64) {
	s := 1 + k1*(x*x+y*y)
	return x * s, y * s
}

// straighten is the inverse of bend. It gives false beyond the radius at which
// the one-term model folds over (r^2 = -1/(3 k1) for a negative term), where
// no straight point belongs to the bent one.
func straighten(xd, yd, k1 float64) (x, y float64, ok bool) {
	// With r = s rd the model is s + q s^3 = 1, q = k1 rd^2. Newton from s = 1
	// comes down (q > 0) or up (q < 0) to the root without passing it, since
	// the left side is convex or concave there.
	q := k1 * (xd*xd + yd*yd)
	if q <= -4.0/27 {
		return 0, 0, false
	}
	s := 1.0
	for range 60 {
		step := (s + q*s*s*s - 1) / (1 + 3*q*s*s)
		s -= step
		if math.Abs(step) < 1e-8 { // what is left is its square
			break
		}
	}
	return xd * s, yd * s, !math.IsNaN(s) && s > 0
}
