package evidence

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fieldjacket/calibrate"
)

// A Span is a length taped from the middle of one square of a grid to that of
// another.
type Span struct {
	From, To      string
	Columns, Rows int // from one to the other
	LengthMm      float64
	By            string // the set-up that it was taped of; "": said of the photo
}

// squareName is a letter or two and a number: C4.
var squareName = regexp.MustCompile(`^([A-Z]{1,2})(\d{1,3})$`)

// SpanOf is the span between two places that are named by their squares, as
// A1 and F6; false where they are not, or are one square.
func SpanOf(from, to string, lengthMm float64, by string) (Span, bool) {
	a, okA := square(from)
	b, okB := square(to)
	s := Span{From: from, To: to, Columns: b[0] - a[0], Rows: b[1] - a[1], LengthMm: lengthMm, By: by}
	return s, okA && okB && a != b
}

// square counts the columns and rows of a square from A1.
func square(name string) (at [2]int, ok bool) {
	m := squareName.FindStringSubmatch(strings.ToUpper(strings.TrimSpace(name)))
	if m == nil {
		return at, false
	}
	for _, letter := range m[1] {
		at[0] = 26*at[0] + int(letter-'A') + 1
	}
	at[1], _ = strconv.Atoi(m[2])
	return at, at[1] > 0
}

// The standard uncertainties of what is taped, in mm: the half-widths of
// rectangular distributions (common practice, no source).
const (
	uTapeMm   = 2 / 1.7320508075688772 // of the tape
	uMiddleMm = 5 / 1.7320508075688772 // of the middle of a square by eye, each way
)

// spanLeast is the share of one of the two lengths that the other may be short
// of and still be a slip of the tape; less, and the squares are of another size.
const spanLeast = 0.8

// A Held is a span held against the squares of a grid.
type Held struct {
	Span
	PitchCm float64
	GridMm  calibrate.Quantity // k = 2, with the tape's own
	Within  bool               // the two differ by no more than U
	Gross   bool               // by so much that the squares are of another size
}

// Hold holds the span against a grid: where its strings run, no picture is
// needed for it.
func (s Span) Hold(grid calibrate.Reference) Held {
	steps := math.Hypot(float64(s.Columns), float64(s.Rows))
	middle := math.Hypot(uMiddleMm, 10*grid.LineUCm()/math.Sqrt2)
	h := Held{Span: s, PitchCm: grid.PitchCm, GridMm: calibrate.Quantity{Value: 10 * grid.PitchCm * steps, U: 2 * math.Hypot(uTapeMm, math.Sqrt2*middle)}}
	h.Within = math.Abs(h.GridMm.Value-s.LengthMm) <= h.GridMm.U
	h.Gross = min(h.GridMm.Value, s.LengthMm) < spanLeast*max(h.GridMm.Value, s.LengthMm)
	return h
}

// String is "A1 to F6: tape 705 mm, squares of 10 cm make 707 ± 9 mm, within U".
func (h Held) String() string {
	says := "within U"
	if !h.Within {
		says = "OUTSIDE U: measure again from the middle of one square to the middle of the other, or the squares are of another size"
	}
	return fmt.Sprintf("%s to %s: tape %g mm, squares of %g cm make %s mm, %s", h.From, h.To, h.LengthMm, h.PitchCm, h.GridMm, says)
}
