package calibrate

import (
	"fmt"
	"math"
)

// params is the number of fitted numbers of a plane: eight of the homography
// (its ninth is 1) and the lens term K1.
const params = 9

// A Plane is where the reference's flat face lies as the camera saw it: the
// result of one fit. Lengths are read on one of its levels, see [Plane.At].
type Plane struct {
	Camera Camera `json:"camera"`

	// Homography takes (U, V) in cm on the reference to the normalised
	// straight picture; its last element is 1. K1 then bends that picture:
	// x_d = x (1 + K1 r^2), r in units of the camera's focal length (of 0.75
	// of the long side where that is not known).
	Homography [9]float64 `json:"homography"`
	K1         float64    `json:"k1"`

	// Covariance holds the standard uncertainties of the first eight elements
	// and K1: the lower triangle of the 9 x 9 matrix, row by row.
	Covariance [params * (params + 1) / 2]float64 `json:"covariance"`

	// Corners is the measured area: a quadrilateral on the reference, in cm,
	// that holds every mark used, in order round it.
	Corners [4][2]float64 `json:"corners_cm"`

	Marks int     `json:"marks"`  // marks found
	Used  int     `json:"used"`   // marks that carry the fit
	RMSPx float64 `json:"rms_px"` // of the used marks' residuals, per coordinate

	Frame *Frame `json:"frame,omitempty"` // grid: how far out of square its frame is; nil: taken as exact

	Uneven bool `json:"uneven,omitempty"` // grid: its strings are slack or off their places; the lens was not taken from them

	BlockHeightCm *Quantity `json:"block_height_cm,omitempty"` // bar: a block's size across the bar, as fitted

	URel             float64 `json:"u_rel"`                        // relative standard uncertainty of the reference's own size
	TiltAllowanceDeg float64 `json:"tilt_allowance_deg,omitempty"` // two points tell no tilt: this much is allowed for; 0: the tilt is fitted
}

func (p *Plane) h() homography { return homography(p.Homography) }

// cov gives element (i, j) of the covariance.
func (p *Plane) cov(i, j int) float64 {
	if j > i {
		i, j = j, i
	}
	return p.Covariance[i*(i+1)/2+j]
}

// MiddleCm is the middle of the measured area on the reference.
func (p *Plane) MiddleCm() (u, v float64) {
	for _, c := range p.Corners {
		u, v = u+c[0]/4, v+c[1]/4
	}
	return u, v
}

// Validate checks a plane that was read from a file or a child's answer.
func (p *Plane) Validate() error {
	if err := p.Camera.Validate(); err != nil {
		return err
	}
	all := append(p.Homography[:], p.Covariance[:]...)
	all = append(all, p.K1, p.RMSPx, p.URel, p.TiltAllowanceDeg)
	for _, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("plane holds %g: want finite numbers", v)
		}
	}
	if p.Homography[8] != 1 || math.Abs(p.K1) > maxK1 {
		return fmt.Errorf("plane with last element %g and lens term %g: want 1 and at most %g", p.Homography[8], p.K1, maxK1)
	}
	if _, ok := p.h().inverse(); !ok {
		return fmt.Errorf("plane is singular")
	}
	return nil
}

// pose is the camera as the plane's homography shows it for a focal length.
// Lengths are in cm, in the camera's frame: x right, y down, z forward.
type pose struct {
	scale      float64    // homography column length per cm of the plane
	normal     [3]float64 // unit normal of the plane, pointing away from the camera
	distanceCm float64    // from the camera to the plane, along the normal
}

// poseFor takes the homography apart for a focal length of ratio times the
// camera's unit: H ~ diag(1/ratio) is undone, the first two columns are then
// two perpendicular directions of one length (Zhang, IEEE PAMI 22(11), 2000,
// section 3.1). Small misfits are averaged over the two columns.
func poseFor(h homography, ratio float64) (pose, bool) {
	a := [3]float64{h[0] / ratio, h[3] / ratio, h[6]}
	b := [3]float64{h[1] / ratio, h[4] / ratio, h[7]}
	t := [3]float64{h[2] / ratio, h[5] / ratio, h[8]}
	na, nb := norm(a), norm(b)
	n := cross(a, b)
	nn := norm(n)
	if !(nn > 0) || !(na*nb > 0) {
		return pose{}, false
	}
	scale := math.Sqrt(na * nb)
	along := (n[0]*t[0] + n[1]*t[1] + n[2]*t[2]) / nn
	if along < 0 {
		nn, along = -nn, -along
	}
	if !(along > 0) {
		return pose{}, false
	}
	return pose{scale, [3]float64{n[0] / nn, n[1] / nn, n[2] / nn}, along / scale}, true
}

// TiltDeg is the angle between the camera's axis and the plane's normal, in
// degrees; false where the focal length is not known or the tilt was not fitted.
func (p *Plane) TiltDeg() (deg float64, known bool) {
	if _, _, ok := p.Camera.FocalPx(); !ok || p.TiltAllowanceDeg > 0 {
		return 0, false
	}
	q, ok := poseFor(p.h(), 1)
	if !ok {
		return 0, false
	}
	return math.Acos(min(1, math.Abs(q.normal[2]))) * 180 / math.Pi, true
}

// DistanceCm is the distance from the camera to the plane, perpendicular to
// it, with U (k = 2); false where the focal length is not known.
func (p *Plane) DistanceCm() (Quantity, bool) {
	_, uRel, ok := p.Camera.FocalPx()
	if !ok {
		return Quantity{}, false
	}
	q, ok := poseFor(p.h(), 1)
	if !ok {
		return Quantity{}, false
	}
	return Quantity{q.distanceCm, 2 * uRel * q.distanceCm}, true
}

func norm(a [3]float64) float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
