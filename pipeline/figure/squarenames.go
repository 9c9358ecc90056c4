package figure

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// An axis names squares along one edge: by letters, by numbers from 1, or by metres of a quarry's own grid.
type axis struct {
	n       int
	letters bool
	quarry  string  // "E" or "N": metres of the quarry
	fromM   float64 // of the origin corner
	stepM   float64 // negative: towards west or south
}

// label names the i-th square. A quarry's square has the name of its south-west corner (common practice, no source).
func (a axis) label(i int) string {
	switch {
	case a.quarry != "":
		at := a.fromM + a.stepM*float64(i)
		if a.stepM < 0 {
			at += a.stepM
		}
		return strconv.FormatFloat(math.Round(at*1000)/1000, 'f', -1, 64) + a.quarry
	case a.letters:
		return letters(i)
	}
	return strconv.Itoa(i + 1)
}

func letters(i int) (text string) {
	for i++; i > 0; i = (i - 1) / 26 {
		text = string(rune('A'+(i-1)%26)) + text
	}
	return text
}

// SquareName is the name of a square by letters and numbers, column and row from 0: "A1".
func SquareName(column, row int) string { return letters(column) + strconv.Itoa(row+1) }

var quarryCorner = regexp.MustCompile(`^(\d+(?:\.\d+)?)\s*[Ee]\s*,?\s*(\d+(?:\.\d+)?)\s*[Nn]$`)

var quarryWays = []string{"north", "east", "south", "west"}

// QuarryCorner is a set-up's origin corner as typed in metres of the quarry's grid, such as 102E 205N; false where it is not.
func QuarryCorner(u register.SetUp) (eastM, northM float64, ok bool) {
	m := quarryCorner.FindStringSubmatch(strings.TrimSpace(u.OriginCorner))
	if m == nil {
		return 0, 0, false
	}
	eastM, _ = strconv.ParseFloat(m[1], 64)
	northM, _ = strconv.ParseFloat(m[2], 64)
	return eastM, northM, true
}

// QuarryRun is which way of the quarry's grid a set-up's letters run, in quarter turns clockwise from north; false where it is not said.
func QuarryRun(u register.SetUp) (quarters int, said bool) {
	for i, way := range quarryWays {
		if w := strings.ToLower(strings.TrimSpace(u.LettersRun)); w == way || w == way[:1] {
			return i, true
		}
	}
	return 0, false
}

// name settles the names: of a quarry's grid where the origin corner is typed as such (102E 205N), with the way the letters'
// edge runs by the compass; else letters and numbers.
func (s *Squares) name(u register.SetUp, clockwise bool) (reason string) {
	e, n, ok := QuarryCorner(u)
	if !ok {
		s.columns.letters = true
		return ""
	}
	runs, said := QuarryRun(u)
	if !said {
		return "the origin corner is of a quarry's grid, but letters_run does not say north, east, south or west"
	}
	across := (runs + 3) % 4 // the grid lies on the left: from north to west
	if clockwise {
		across = (runs + 1) % 4
	}
	step := s.pitchCm / 100
	set := func(a *axis, way int) {
		switch quarryWays[way] {
		case "north":
			a.quarry, a.fromM, a.stepM = "N", n, step
		case "south":
			a.quarry, a.fromM, a.stepM = "N", n, -step
		case "east":
			a.quarry, a.fromM, a.stepM = "E", e, step
		case "west":
			a.quarry, a.fromM, a.stepM = "E", e, -step
		}
	}
	set(&s.columns, runs)
	set(&s.rows, across)
	return ""
}

// Labels name the squares along the two edges at the origin corner, in the margins that those edges face.
func (s *Squares) Labels(l Lay) []look.Label {
	sides := s.sides(l)
	out := s.edge(l, s.columns, sides[0], func(i, deep float64) (u, v float64) { return s.at(i, deep) }, float64(s.rows.n))
	return append(out, s.edge(l, s.rows, sides[1], func(i, deep float64) (u, v float64) { return s.at(deep, i) }, float64(s.columns.n))...)
}

// sides are the margins that the names stand in: of the letters' edge, and of the other, which is never the same. None
// where the squares are not named.
func (s *Squares) sides(l Lay) []string {
	if s == nil {
		return nil
	}
	x, y := l.OfPlane(s.at(0, 0))
	ax, ay := l.OfPlane(s.at(1, 0))
	cx, cy := l.OfPlane(s.at(0, 1))
	columns := sideOf(x-cx, y-cy)
	return []string{columns, sideOf(x-ax, y-ay, columns)}
}

// Corners are the corners of a named square on the plane, cm; false where there is none of that name.
func (s *Squares) Corners(name string) (corners [4][2]float64, ok bool) {
	plain := func(text string) string { return strings.ToUpper(strings.NewReplacer(" ", "", ",", "").Replace(text)) }
	for i := range s.columns.n {
		for j := range s.rows.n {
			a, b := s.columns.label(i), s.rows.label(j)
			if want := plain(name); want != plain(a+b) && (s.columns.letters || want != plain(b+a)) {
				continue
			}
			for k, c := range [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				corners[k][0], corners[k][1] = s.at(float64(i)+c[0], float64(j)+c[1])
			}
			return corners, true
		}
	}
	return corners, false
}

// String is "A1 to G6".
func (s *Squares) String() string {
	if s.columns.n == 0 || s.rows.n == 0 {
		return "none"
	}
	last := s.columns.label(s.columns.n-1) + s.rows.label(s.rows.n-1)
	return s.columns.label(0) + s.rows.label(0) + " to " + last
}

// LettersDeg is where the letters run to on a plate, clockwise from its top; false where the squares are not named.
func (s *Squares) LettersDeg(l Lay) (deg float64, ok bool) {
	if s == nil {
		return 0, false
	}
	x0, y0 := l.OfPlane(s.at(0, 0))
	x1, y1 := l.OfPlane(s.at(1, 0))
	return clockwiseDeg(x1-x0, y1-y0), true
}

// Beside is the margin, left or right, that no square's name stands in.
func (s *Squares) Beside(l Lay) string {
	if slices.Contains(s.sides(l), "right") {
		return "left"
	}
	return "right"
}

// edge labels the squares of one edge, each at the middle of its outer side, or where its row enters the picture.
func (s *Squares) edge(l Lay, a axis, side string, at func(i, deep float64) (u, v float64), deepest float64) (out []look.Label) {
	for i := range a.n {
		for deep := 0.0; deep <= deepest; deep += 0.1 {
			x, y := l.OfPlane(at(float64(i)+0.5, deep))
			if l.Inside(x, y) {
				out = append(out, look.Label{XPx: x, YPx: y, Side: side, Text: a.label(i), Plain: true})
				break
			}
		}
	}
	return out
}
