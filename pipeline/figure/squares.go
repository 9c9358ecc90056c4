package figure

import (
	"math"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

const (
	snapShare = 0.3 // of the pitch: farther from a crossing, a marked corner is not one
	mostTurn  = 30  // degrees: farther from a string's direction, the mark for the letters tells nothing
)

// Squares are the named squares of a grid in one photo. They are the set-up's own, whichever side the photo was taken from.
type Squares struct {
	plane   *calibrate.Plane
	pitchCm float64
	corner  [2]float64 // on the plane, cm: the outer corner of the first square
	along   [2]float64 // the direction that the letters run in, one unit long
	across  [2]float64 // the other, into the grid
	columns axis       // along
	rows    axis       // across
}

// SquaresOf finds the squares of a set-up in a photo from its marked origin corner. reason says why it cannot be done; it
// is never guessed.
func SquaresOf(plane *calibrate.Plane, pitchCm float64, u register.SetUp, origin *Origin) (s *Squares, reason string) {
	if origin == nil {
		return nil, "nobody marked the origin corner in this photo"
	}
	level, err := plane.At(0)
	if err != nil || !(pitchCm > 0) {
		return nil, "the grid has no pitch"
	}
	cu, cv, err := level.Cm(origin.Corner)
	if err != nil {
		return nil, "the marked origin corner does not lie on the grid's plane"
	}
	snap := func(x float64) float64 { return math.Round(x/pitchCm) * pitchCm }
	if math.Hypot(cu-snap(cu), cv-snap(cv)) > snapShare*pitchCm {
		return nil, "the marked origin corner is no crossing of strings"
	}
	s = &Squares{plane: plane, pitchCm: pitchCm, corner: [2]float64{snap(cu), snap(cv)}}
	mu, mv := plane.MiddleCm()
	if math.Min(math.Abs(mu-s.corner[0]), math.Abs(mv-s.corner[1])) < pitchCm/2 {
		return nil, "the marked origin corner is not at a corner of the grid"
	}
	inU, inV := math.Copysign(1, mu-s.corner[0]), math.Copysign(1, mv-s.corner[1])
	if reason := s.run(level, origin, u.LettersRun, inU, inV); reason != "" {
		return nil, reason
	}
	if reason := s.count(u.Cells); reason != "" {
		return nil, reason
	}
	return s, s.name(u, s.clockwise(level))
}

// run settles which of the two edges at the corner the letters run along.
func (s *Squares) run(level calibrate.Level, origin *Origin, lettersRun string, inU, inV float64) (reason string) {
	s.along, s.across = [2]float64{inU, 0}, [2]float64{0, inV}
	swap := func() { s.along, s.across = s.across, s.along }
	if origin.LettersTo != nil {
		u, v, err := level.Cm(*origin.LettersTo)
		du, dv := (u-s.corner[0])*inU, (v-s.corner[1])*inV
		turn := math.Atan2(dv, du) * 180 / math.Pi
		switch {
		case err != nil || turn < -mostTurn || turn > 90+mostTurn || turn > mostTurn && turn < 90-mostTurn:
			return "the mark for the way the letters run lies along neither edge of the grid"
		case turn > 45:
			swap()
		}
		return ""
	}
	clockwise, said := Clockwise(lettersRun)
	if !said {
		return "nobody marked which way the letters run in this photo"
	}
	if s.clockwise(level) != clockwise {
		swap()
	}
	return ""
}

// Clockwise reads which way round the grid a set-up's letters run, seen from above; said is false where it does not say.
func Clockwise(lettersRun string) (clockwise, said bool) {
	switch strings.ToLower(strings.TrimSpace(lettersRun)) {
	case "clockwise":
		return true, true
	case "anticlockwise", "counterclockwise":
		return false, true
	}
	return false, false
}

// Against tells whether a set-up says that the letters run the other way round.
func (s *Squares) Against(lettersRun string) bool {
	clockwise, said := Clockwise(lettersRun)
	level, err := s.plane.At(0)
	return err != nil || said && s.clockwise(level) != clockwise
}

// Same tells whether two namings of one photo's squares agree.
func (s *Squares) Same(o *Squares) bool {
	return math.Hypot(s.corner[0]-o.corner[0], s.corner[1]-o.corner[1]) < s.pitchCm/2 && s.along == o.along
}

// clockwise tells whether who walks along the letters' edge from the corner, seen as in the photo, has the grid on the right.
func (s *Squares) clockwise(level calibrate.Level) bool {
	o, _ := level.Photo(s.corner[0], s.corner[1])
	a, _ := level.Photo(s.at(1, 0))
	b, _ := level.Photo(s.at(0, 1))
	return (a.XPx-o.XPx)*(b.YPx-o.YPx)-(a.YPx-o.YPx)*(b.XPx-o.XPx) > 0
}

// at takes a place counted in squares from the corner, along and across, to the plane.
func (s *Squares) at(along, across float64) (u, v float64) {
	a, c := along*s.pitchCm, across*s.pitchCm
	return s.corner[0] + a*s.along[0] + c*s.across[0], s.corner[1] + a*s.along[1] + c*s.across[1]
}

// of is the reverse of at.
func (s *Squares) of(u, v float64) (along, across float64) {
	u, v = (u-s.corner[0])/s.pitchCm, (v-s.corner[1])/s.pitchCm
	return u*s.along[0] + v*s.along[1], u*s.across[0] + v*s.across[1]
}

// count settles how many squares there are: those of the set-up, else those that were seen.
func (s *Squares) count(cells *register.Cells) (reason string) {
	a, c := 0.0, 0.0
	for _, q := range s.plane.Corners {
		i, j := s.of(q[0], q[1])
		a, c = max(a, i), max(c, j)
	}
	s.columns.n, s.rows.n = int(math.Round(a)), int(math.Round(c))
	if cells == nil {
		return ""
	}
	if s.columns.n > cells.Across || s.rows.n > cells.Down {
		return "from the marked corner on the photo shows more squares than the set-up has: the corner or the way of the letters is wrong"
	}
	s.columns.n, s.rows.n = cells.Across, cells.Down
	return ""
}

// Edge is the arrow along the letters' edge, which a set-up's edge bearing is the bearing of.
func (s *Squares) Edge() *Arrow {
	du, dv := s.at(1, 0)
	if a, ok := arrowOn(s.plane, s.corner[0], s.corner[1], du-s.corner[0], dv-s.corner[1]); ok {
		return &a
	}
	return nil
}
