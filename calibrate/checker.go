package calibrate

import "math"

// MinCheckerCorners is the least number of inner corners that must carry a
// checkerboard's plane: with fewer, one wrong corner cannot be seen.
const MinCheckerCorners = 9

// FitChecker makes the plane of a checkerboard from its inner corners and
// refuses what does not hold: too few corners, corners that do not lie on a
// lattice of equal squares, a board seen almost edge on.
func FitChecker(ref Reference, camera Camera, marks []Mark) (*Plane, error) {
	if err := ref.Validate(); err != nil {
		return nil, err
	}
	if len(marks) < MinCheckerCorners {
		return nil, Refuse(retakeChecker, "checker: %d inner corners found, need %d", len(marks), MinCheckerCorners)
	}
	p, _, err := Fit(ref, camera, marks, FitOptions{})
	if err != nil {
		return nil, Refuse(retakeChecker, "checker: %d inner corners do not fix a plane: %v", len(marks), err)
	}
	if p.Used < MinCheckerCorners || float64(p.Used) < 0.6*float64(len(marks)) {
		return nil, Refuse(retakeChecker, "checker: only %d of %d inner corners agree, need %d", p.Used, len(marks), max(MinCheckerCorners, int(math.Ceil(0.6*float64(len(marks))))))
	}
	level, _ := p.At(0)
	u, v := p.MiddleCm()
	scale, err := level.ScalePxPerCm(u, v)
	if err != nil {
		return nil, Refuse(retakeChecker, "checker: %v", err)
	}
	square := scale.Value * ref.SquareCm
	if limit := max(0.5, maxMisfit*square); p.RMSPx > limit {
		return nil, Refuse(retakeChecker, "checker: corners miss their places by %.2f px, limit %.2f", p.RMSPx, limit)
	}
	if square < minSquarePx {
		return nil, Refuse("go nearer, so that the board is larger in the picture", "checker: squares of %.1f px, need %d", square, minSquarePx)
	}
	if tilt, known := p.TiltDeg(); known && tilt > maxTiltDeg {
		return nil, Refuse(retakeChecker, "checker: seen at a camera tilt of %.0f degrees, limit %d", tilt, maxTiltDeg)
	}
	return p, nil
}

const (
	maxMisfit   = 0.02 // of a square's side, rms
	minSquarePx = 8
	maxTiltDeg  = 65

	retakeChecker = "retake it squarer from above, with the whole board in the frame, flat, clean and in even light"
)
