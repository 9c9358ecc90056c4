package calibrate

import (
	"errors"
	"math"
)

// ErrTooFewMarks is wrapped by a refusal-free failure of [Fit]: fewer marks
// than the plane has unknowns.
var ErrTooFewMarks = errors.New("too few marks for a plane: want four corners, no three on a line, or lines both ways")

// FitOptions changes how marks are fitted. The zero value suits marks that a
// finder measured.
type FitOptions struct {
	// Start is a first homography (cm on the reference to the normalised
	// straight picture) with its K1. Marks that pin one coordinate only
	// cannot make one by themselves. nil: from the corners.
	Start *[9]float64
	K1    float64

	// FloorPx is the least standard uncertainty a mark is given, in px, however
	// well the marks agree. 0: 0.012 px.
	FloorPx float64

	// Rounds is how often the marks are weighed anew. 0: 6.
	Rounds int

	// Uneven says that the marks' lines are far from straight or from their
	// places, as strings may be. A lens that bends is not believed from such
	// marks: their lines' errors would pass for it. K1 is held to what is known
	// beforehand, which weighs as much as so many lines do, not marks.
	Uneven bool

	// Rough stops each descent early, where the plane is only a step towards
	// better marks.
	Rough bool

	prior func(s state) []float64 // see fitting
}

// fitRounds is how often the marks are weighed anew; trimSigma the number of
// standard deviations beyond which a mark is left out, never below trimPx.
const (
	fitRounds = 6
	trimSigma = 4
	trimLoose = 12 // the same where lines may be far off their places: one of them is no mistake
	trimPx    = 0.3
)

// Fit finds the plane of one reference's marks: a homography and one radial
// lens term, by Levenberg-Marquardt on the distances in the photo, with
// Cauchy weights first and marks beyond four standard deviations left out
// after. It does not judge: see [FitChecker] for what is refused. used has an
// entry per mark.
//
// The covariance is that of the least squares, scaled by the residuals (type
// A, JCGM 100:2008 section 4.2); the lens term carries a prior (type B, 4.3),
// so that its size is in U where few marks cannot show it.
func Fit(ref Reference, camera Camera, marks []Mark, o FitOptions) (plane *Plane, used []bool, err error) {
	if err := validateMarks(camera, marks); err != nil {
		return nil, nil, err
	}
	s, err := startState(camera, marks, o)
	if err != nil {
		return nil, nil, err
	}
	floor := o.FloorPx
	if floor == 0 {
		floor = 0.012
	}
	f := fitting{camera: camera, marks: marks, weight: make([]float64, len(marks)), uK1: uK1, prior: o.prior, alike: 1}
	for i := range f.weight {
		f.weight[i] = 1
	}
	trim := float64(trimSigma)
	if o.Uneven {
		trim = trimLoose
		f.alike = math.Sqrt(float64(len(marks)) / float64(max(1, linesOf(marks))))
	}
	sigma := 2.0
	rounds := o.Rounds
	if rounds == 0 {
		rounds = fitRounds
	}
	until, last := 1e-5, 1e-12
	if o.Rough {
		until, last = 1e-2, 1e-3
	}
	for round := range rounds {
		s = f.levenbergMarquardt(s, max(sigma, floor), until)
		misfit := f.misfits(s)
		sigma = max(f.spread(misfit), floor)
		if math.Abs(s[8]) > 3*f.uK1 && !o.Uneven {
			f.uK1 = 10 * uK1 // the marks say that this lens bends: believe them
		}
		for i, m := range misfit {
			switch {
			case math.IsNaN(m):
				f.weight[i] = 0
			case round < rounds/2:
				f.weight[i] = 1 / (1 + m*m/(4*sigma*sigma))
			case m > max(trim*sigma, trimPx):
				f.weight[i] = 0
			default:
				f.weight[i] = 1
			}
		}
	}
	s = f.levenbergMarquardt(s, sigma, last)
	return f.plane(ref, s, floor)
}

// linesOf is how many lines marks lie on.
func linesOf(marks []Mark) int {
	lines := map[int]bool{}
	for _, m := range marks {
		lines[m.Line] = true
	}
	return len(lines)
}

// startState gives the first guess.
func startState(camera Camera, marks []Mark, o FitOptions) (s state, err error) {
	if o.Start != nil {
		copy(s[:8], o.Start[:8])
		s[8], s[9] = o.K1, 1
		return s, nil
	}
	var pairs []pair
	for _, m := range marks {
		if m.Pins == PinsBoth {
			x, y := camera.normalise(m.At)
			pairs = append(pairs, pair{m.UCm, m.VCm, x, y})
		}
	}
	h, ok := direct(pairs)
	if !ok {
		return s, ErrTooFewMarks
	}
	copy(s[:8], h[:8])
	s[9] = 1
	return s, nil
}

// plane packs the result of a fit.
func (f *fitting) plane(ref Reference, s state, floorPx float64) (*Plane, []bool, error) {
	used := make([]bool, len(f.marks))
	n, equations, sum := 0, 0, 0.0
	for i, m := range f.misfits(s) {
		if f.weight[i] > 0 {
			used[i] = true
			n++
			sum += m * m
			equations += f.marks[i].equations()
		}
	}
	if equations < params-1 { // the lens term has its prior
		return nil, used, ErrTooFewMarks
	}
	p := &Plane{Camera: f.camera, K1: s[8], Marks: len(f.marks), Used: n, URel: ref.uRel()}
	copy(p.Homography[:], s[:8])
	p.Homography[8] = 1
	p.RMSPx = math.Sqrt(sum / float64(equations))
	sigma := max(math.Sqrt(sum/max(1, float64(equations-params+1))), floorPx)
	covered := false
	if f.onLines() {
		covered = f.sharedCovariance(s, sigma, ref.LineUCm(), &p.Covariance)
	} else {
		covered = f.covariance(s, sigma, &p.Covariance)
	}
	if !covered {
		return nil, used, ErrTooFewMarks
	}
	p.Corners = f.corners(s, used)
	return p, used, p.Validate()
}

// onLines tells whether every mark lies on a numbered line.
func (f *fitting) onLines() bool {
	for _, m := range f.marks {
		if m.Line == 0 || m.Pins == PinsBoth {
			return false
		}
	}
	return true
}

// equations is how many coordinates the mark gives.
func (m Mark) equations() int {
	if m.Pins == PinsBoth {
		return 2
	}
	return 1
}

// corners is the box on the reference that holds the used marks.
func (f *fitting) corners(s state, used []bool) [4][2]float64 {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	level := Level{plane: &Plane{Camera: f.camera}}
	for i, m := range f.marks {
		if !used[i] {
			continue
		}
		u, v, ok := level.cm(s, m.At)
		if !ok {
			continue
		}
		if m.Pins != PinsV {
			u = m.UCm
		}
		if m.Pins != PinsU {
			v = m.VCm
		}
		lo = [2]float64{min(lo[0], u), min(lo[1], v)}
		hi = [2]float64{max(hi[0], u), max(hi[1], v)}
	}
	return [4][2]float64{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}
}

// spread is the robust standard deviation of one coordinate of the marks: the
// median misfit over the median that a unit deviation would give, 0.6745 for
// a mark with one equation (normal) and 1.1774 for a corner (Rayleigh).
func (f *fitting) spread(misfit []float64) float64 {
	var all []float64
	for i, m := range misfit {
		if f.weight[i] == 0 || math.IsNaN(m) {
			continue
		}
		if f.marks[i].Pins == PinsBoth {
			all = append(all, m/1.1774)
		} else {
			all = append(all, m/0.6745)
		}
	}
	if len(all) == 0 {
		return 0
	}
	return median(all)
}
