package relief

import "math"

// What is not known beforehand, as standard uncertainties. The focal length's
// and the lens term's are those of package calibrate; the others are set from
// how frames are made (common practice, no source).
const (
	uFocalRel  = 0.05
	uLens      = 0.03
	uCentreRel = 0.003 // of the principal point, over the picture's width
	uRack      = 0.01  // of the frame's corner off 90 degrees, rad
)

// sizes of what strings do, in cm: of tidy frames, then of uneven ones.
var (
	uKinkCm  = [2]float64{0.05, 0.2} // a string at each crossing, off straight
	uSagCm   = [2]float64{0.3, 0.7}  // in the middle, all of a family together
	uOwnCm   = [2]float64{0.1, 0.5}  // and each by itself
	uTwistCm = [2]float64{0.2, 0.7}  // a frame's corners, up and down by turns
	uLiftCm  = [2]float64{0.15, 0.3} // one family over the other
)

// places of the shared numbers in the state
const (
	atFocal = iota // over the first guess
	atLens
	atRack
	atTwist
	atLift
	atSag      // two
	sharedSize = atSag + 2
	photoSize  = 8 // turn (3), place (3), principal point (2)
	stringHead = 3 // offset, turn, sag of its own; then one kink a crossing
)

// A solver holds the state of all photos and strings, and what was known of it
// beforehand. Lengths are in cm, places in the photos in px.
type solver struct {
	*laid
	x, prior, u []float64 // state; prior mean and standard uncertainty
	photos      int
	focalPx     []float64 // by photo, as its tag tells
	strings     []int     // where each string's numbers begin
}

// newSolver starts from each photo's own pose.
func newSolver(l *laid, photos []Photo, turns []Turn, lineUCm float64) *solver {
	s := &solver{laid: l, photos: len(photos)}
	kind := 0
	if l.uneven {
		kind = 1
	}
	add := func(x, u float64) { s.x, s.u = append(s.x, x), append(s.u, u) }
	add(1, uFocalRel)
	k1 := 0.0
	for _, p := range photos {
		k1 += p.Plane.K1 / float64(len(photos))
	}
	add(0, uLens)
	add(0, uRack)
	add(0, uTwistCm[kind])
	add(0, uLiftCm[kind])
	add(0, uSagCm[kind])
	add(0, uSagCm[kind])
	for i, p := range photos {
		r, c, _ := poseOf(p.Plane)
		r, c = turns[i].over(r, c)
		w := turnVector(r)
		for _, v := range append(w[:], c[:]...) {
			add(v, math.Inf(1))
		}
		add(float64(p.Plane.Camera.WidthPx-1)/2, uCentreRel*float64(p.Plane.Camera.WidthPx))
		add(float64(p.Plane.Camera.HeightPx-1)/2, uCentreRel*float64(p.Plane.Camera.WidthPx))
		f, _, _ := p.Plane.Camera.FocalPx()
		s.focalPx = append(s.focalPx, f)
	}
	uEnd := max(lineUCm, 0.02)
	if l.uneven {
		uEnd = max(uEnd, 0.3)
	}
	for _, n := range l.names {
		s.strings = append(s.strings, len(s.x))
		add(0, uEnd/math.Sqrt2)
		add(0, uEnd/math.Sqrt2)
		add(0, uOwnCm[kind])
		for range l.hi[1-n.family] - l.lo[1-n.family] + 1 {
			add(0, uKinkCm[kind])
		}
	}
	s.prior = append(s.prior, s.x...)
	s.x[atLens] = k1
	return s
}

func (s *solver) photoAt(k int) int { return sharedSize + photoSize*k }

// view is a photo's camera in the order of [View].
func (s *solver) view(k int) (v [viewSize]float64) {
	at := s.photoAt(k)
	copy(v[:6], s.x[at:at+6])
	v[6], v[7] = s.x[atFocal]*s.focalPx[k], s.x[atLens]
	copy(v[8:], s.x[at+6:at+8])
	return v
}

// columns names the state's numbers behind a view's.
func (s *solver) columns(k int) (at [viewSize]int) {
	p := s.photoAt(k)
	return [viewSize]int{p, p + 1, p + 2, p + 3, p + 4, p + 5, atFocal, atLens, p + 6, p + 7}
}

// viewSteps are small changes of a view's numbers, for differences, and what
// one of the state's numbers is of the view's.
func (s *solver) viewSteps(k int) (step, per [viewSize]float64) {
	f := s.focalPx[k]
	return [viewSize]float64{1e-6, 1e-6, 1e-6, 1e-4, 1e-4, 1e-4, 1e-3, 1e-6, 1e-3, 1e-3},
		[viewSize]float64{1, 1, 1, 1, 1, 1, f, 1, 1, 1}
}
