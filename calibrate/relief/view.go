package relief

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
)

// effects is how many numbers carry what the adjustment leaves uncertain of
// the first photo's view: its camera, then the common error of all depths.
const effects = viewSize + depthTerms

const (
	viewSize   = 10 // turn (3), place of the camera (3, cm), focal length (px), lens term, principal point (2, px)
	depthTerms = 10 // see depthBasis
)

// A View is the first photo's camera as the adjustment of all photos left it,
// over the strings' plane, with its covariance.
type View struct {
	Camera [viewSize]float64 `json:"camera"` // turn (3, a rotation vector), place of the camera (3, cm), focal length (px), lens term, principal point (2, px)

	// Covariance holds standard uncertainties: the lower triangle, row by row,
	// of the camera's ten numbers and ten terms by which all depths err
	// together, see depthBasis.
	Covariance [effects * (effects + 1) / 2]float64 `json:"covariance"`
}

// depthBasis are the terms that the common error of all depths is made of at a
// place: what a wrong pose, focal length or string does to depths is smooth.
func depthBasis(u, v, below float64) [depthTerms]float64 {
	u, v, below = u/50, v/50, below/20
	return [depthTerms]float64{1, u, v, below, u * below, v * below, below * below, u * u, u * v, v * v}
}

// Cm takes a photo point to (U, V) on the level below the strings; an error
// where the point looks past it.
func (d *Depths) Cm(p calibrate.Point, belowCm float64) (u, v float64, err error) {
	c := CameraOf(d.View.Camera)
	u, v, ok := c.Ground(p, belowCm)
	if !ok {
		return 0, 0, fmt.Errorf("photo point (%g, %g) px does not look at the level %g cm below the strings", p.XPx, p.YPx, belowCm)
	}
	return u, v, nil
}

// Photo takes a place below the strings to the first photo, which may not
// reach so far; false behind the camera.
func (d *Depths) Photo(u, v, belowCm float64) (calibrate.Point, bool) {
	c := CameraOf(d.View.Camera)
	return c.Photo(u, v, belowCm)
}

// Focal is the focal length after the adjustment, in px of the upright photo,
// with U (k = 2).
func (d *Depths) Focal() calibrate.Quantity {
	i := 6
	return calibrate.Quantity{Value: d.View.Camera[i], U: 2 * math.Sqrt(d.View.Covariance[i*(i+1)/2+i])}
}
