package figure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// frame is a grid of 10 x 8 squares of 10 cm seen square, U to the right from -50 to 50, V down from -40 to 40.
func frame() *calibrate.Plane {
	p := square(150)
	p.Corners = [4][2]float64{{-50, -40}, {50, -40}, {50, 40}, {-50, 40}}
	return p
}

// marked is the origin at a place of a plane, with the letters running towards another.
func marked(p *calibrate.Plane, u, v, toU, toV float64) *Origin {
	level, _ := p.At(0)
	c, _ := level.Photo(u, v)
	to, _ := level.Photo(toU, toV)
	return &Origin{Corner: c, LettersTo: &to}
}

// From each corner of the frame, either way, the square in which a place lies is the one that counting from that corner gives.
func TestSquaresFromEachCorner(t *testing.T) {
	p := frame()
	for _, c := range []struct {
		u, v, toU, toV float64
		column, row    float64 // of the place (12, -7), counted along and across
		clockwise      bool    // seen from above, with the grid on the right
		n, m           int
	}{
		{-50, -40, 0, -40, 6.2, 3.3, true, 10, 8}, {-50, -40, -50, 0, 3.3, 6.2, false, 8, 10},
		{50, -40, 0, -40, 3.8, 3.3, false, 10, 8}, {50, -40, 50, 0, 3.3, 3.8, true, 8, 10},
		{50, 40, 0, 40, 3.8, 4.7, true, 10, 8}, {50, 40, 50, 0, 4.7, 3.8, false, 8, 10},
		{-50, 40, 0, 40, 6.2, 4.7, false, 10, 8}, {-50, 40, -50, 0, 4.7, 6.2, true, 8, 10},
	} {
		s, why := SquaresOf(p, 10, register.SetUp{}, marked(p, c.u, c.v, c.toU, c.toV))
		if why != "" {
			t.Fatalf("%+v: %s", c, why)
		}
		if i, j := s.of(12, -7); math.Abs(i-c.column) > 1e-9 || math.Abs(j-c.row) > 1e-9 {
			t.Errorf("from (%g, %g) towards (%g, %g): (12, -7) is %.2f along and %.2f across, want %g and %g", c.u, c.v, c.toU, c.toV, i, j, c.column, c.row)
		}
		if u, v := s.at(s.of(12, -7)); math.Hypot(u-12, v+7) > 1e-9 {
			t.Errorf("(12, -7) comes back as (%g, %g)", u, v)
		}
		if s.columns.n != c.n || s.rows.n != c.m {
			t.Errorf("%d columns and %d rows, want %d and %d", s.columns.n, s.rows.n, c.n, c.m)
		}
		says, against := "clockwise", "anticlockwise"
		if !c.clockwise {
			says, against = against, says
		}
		if s.Against(says) || !s.Against(against) || s.Against("east") {
			t.Errorf("from (%g, %g) the letters run %s: against it %t, against the other %t", c.u, c.v, says, s.Against(says), s.Against(against))
		}
		// The same without a mark for the letters, by the set-up's word.
		word, why := SquaresOf(p, 10, register.SetUp{LettersRun: says}, &Origin{Corner: marked(p, c.u, c.v, 0, 0).Corner})
		if why != "" || !word.Same(s) {
			t.Errorf("by the word %s: %+v, %q", says, word, why)
		}
		other, _ := SquaresOf(p, 10, register.SetUp{LettersRun: against}, &Origin{Corner: marked(p, c.u, c.v, 0, 0).Corner})
		if other.Same(s) {
			t.Errorf("%s and %s are the same squares", says, against)
		}
		e := s.Edge()
		level, _ := p.At(0)
		u0, v0, _ := level.Cm(e.Tail)
		u1, v1, _ := level.Cm(e.Head)
		if math.Hypot(u0-c.u, v0-c.v) > 1e-6 || math.Hypot(u1-c.u, v1-c.v)-10 > 1e-6 || (c.toU-c.u)*(u1-u0)+(c.toV-c.v)*(v1-v0) <= 0 {
			t.Errorf("the edge runs from (%g, %g) to (%g, %g)", u0, v0, u1, v1)
		}
	}
	a, _ := SquaresOf(p, 10, register.SetUp{}, marked(p, -50, -40, 0, -40))
	b, _ := SquaresOf(p, 10, register.SetUp{}, marked(p, 50, 40, 0, 40))
	if a.Same(b) {
		t.Error("squares from two corners are the same")
	}
	if clockwise, said := Clockwise(" CounterClockwise "); clockwise || !said {
		t.Error("counterclockwise is not read")
	}
}

// Where a mark lies off a crossing, off a corner or between the edges nothing is named: limits 3 cm of 10, 5 cm from the middle lines, 30 degrees.
func TestMarksThatNameNothing(t *testing.T) {
	p := frame()
	turn := func(deg float64) *Origin {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return marked(p, -50, -40, -50+40*cos, -40+40*sin)
	}
	for _, c := range []struct {
		name  string
		mark  *Origin
		named bool
	}{
		{"on the crossing", marked(p, -50, -40, 0, -40), true}, {"2.9 cm off", marked(p, -52.9, -40, 0, -40), true}, {"3.1 cm off", marked(p, -53.1, -40, 0, -40), false},
		{"2.1 and 2.1 cm off", marked(p, -47.9, -42.1, 0, -40), true}, {"2.2 and 2.2 cm off", marked(p, -52.2, -42.2, 0, -40), false},
		{"on the middle line", marked(p, 0, -40, 50, -40), false}, {"on the other middle line", marked(p, -50, 0, -50, 40), false}, {"a crossing from the middle line", marked(p, 10, -40, 0, -40), true},
		{"29 degrees in", turn(29), true}, {"31 degrees in", turn(31), false}, {"45 degrees", turn(45), false}, {"59 degrees", turn(59), false}, {"61 degrees", turn(61), true},
		{"29 degrees out", turn(-29), true}, {"31 degrees out", turn(-31), false}, {"119 degrees", turn(119), true}, {"121 degrees", turn(121), false}, {"backwards", turn(180), false},
	} {
		if _, why := SquaresOf(p, 10, register.SetUp{}, c.mark); (why == "") != c.named {
			t.Errorf("%s: %q", c.name, why)
		}
	}
	corner := &Origin{Corner: marked(p, -50, -40, 0, 0).Corner}
	for runs, want := range map[string]string{"": "nobody marked which way", "east": "nobody marked which way"} {
		if _, why := SquaresOf(p, 10, register.SetUp{LettersRun: runs}, corner); !strings.Contains(why, want) {
			t.Errorf("letters_run %q: %q", runs, why)
		}
	}
	for _, pitch := range []float64{0, -10, math.NaN()} {
		if _, why := SquaresOf(p, pitch, register.SetUp{}, corner); why != "the grid has no pitch" {
			t.Errorf("pitch %g: %q", pitch, why)
		}
	}
	for _, c := range []struct {
		cells register.Cells
		named bool
	}{{register.Cells{Across: 10, Down: 8}, true}, {register.Cells{Across: 12, Down: 9}, true}, {register.Cells{Across: 9, Down: 8}, false}, {register.Cells{Across: 10, Down: 7}, false}, {register.Cells{Across: 8, Down: 10}, false}} {
		s, why := SquaresOf(p, 10, register.SetUp{Cells: &c.cells}, marked(p, -50, -40, 0, -40))
		if (why == "") != c.named || c.named && (s.columns.n != c.cells.Across || s.rows.n != c.cells.Down) {
			t.Errorf("a set-up of %+v: %q", c.cells, why)
		}
	}
	beyond := away()
	if _, why := SquaresOf(beyond, 10, register.SetUp{}, &Origin{Corner: at(2000, 2900)}); why != "the marked origin corner does not lie on the grid's plane" {
		t.Errorf("a corner in the sky: %q", why)
	}
	level, _ := beyond.At(0)
	c, _ := level.Photo(-50, -50)
	sky := at(2000, 2900)
	if _, why := SquaresOf(beyond, 10, register.SetUp{}, &Origin{Corner: c, LettersTo: &sky}); !strings.Contains(why, "along neither edge") {
		t.Errorf("letters into the sky: %q", why)
	}
}

// The names stand along the letters' and the numbers' edge, each beside its own square, where the plate begins if the edge is not on it.
func TestNamesStandBesideTheirSquares(t *testing.T) {
	p := frame()
	s, why := SquaresOf(p, 10, register.SetUp{}, marked(p, -50, -40, 0, -40))
	if why != "" {
		t.Fatal(why)
	}
	whole := Lay{Picture: look.Picture{WidthPx: 1201, HeightPx: 1001, Plane: p, From: [6]float64{0.1, 0, -60, 0, 0.1, -50}}} // from (-60, -50) cm, 10 px/cm
	labels := s.Labels(whole)
	if len(labels) != 18 {
		t.Fatalf("%d names, want 10 letters and 8 numbers", len(labels))
	}
	for i, l := range labels {
		want := look.Label{XPx: 150 + 100*float64(i), YPx: 100, Side: "top", Text: string(rune('A' + i)), Plain: true}
		if i >= 10 {
			want = look.Label{XPx: 100, YPx: 150 + 100*float64(i-10), Side: "left", Text: fmt.Sprint(i - 9), Plain: true}
		}
		if math.Hypot(l.XPx-want.XPx, l.YPx-want.YPx) > 1e-6 || l.Side != want.Side || l.Text != want.Text || l.Plain != want.Plain {
			t.Errorf("%+v, want %+v", l, want)
		}
	}
	// A plate of the lower right part: A to F and 1 to 4 lie outside it, the others where their squares enter.
	part := Lay{Picture: look.Picture{WidthPx: 501, HeightPx: 501, Plane: p, From: [6]float64{0.1, 0, 10, 0, 0.1, 0}}}
	var letters, numbers string
	for _, l := range s.Labels(part) {
		if l.Side == "top" {
			letters += l.Text
			if l.YPx < 0 || l.YPx > 1.1 {
				t.Errorf("%s stands %.1f px down, want where its squares enter", l.Text, l.YPx)
			}
		} else {
			numbers += l.Text
		}
	}
	if letters != "GHIJ" || numbers != "5678" {
		t.Errorf("letters %q and numbers %q", letters, numbers)
	}
	if side := s.Beside(whole); side != "right" {
		t.Errorf("free is the %s", side)
	}
	r, _ := SquaresOf(p, 10, register.SetUp{}, marked(p, 50, -40, 0, -40))
	if side := r.Beside(whole); side != "left" {
		t.Errorf("with numbers at the right, free is the %s", side)
	}
	if got := (*Squares)(nil).sides(whole); got != nil {
		t.Errorf("no squares stand at %q", got)
	}
}

// A quarry's square is named by its south-west corner in metres, whatever the pitch and the way.
func TestQuarryNames(t *testing.T) {
	for _, c := range []struct {
		a    axis
		i    int
		want string
	}{
		{axis{quarry: "E", fromM: 102, stepM: 0.1}, 0, "102E"}, {axis{quarry: "E", fromM: 102, stepM: 0.1}, 3, "102.3E"}, {axis{quarry: "E", fromM: 102, stepM: -0.1}, 0, "101.9E"},
		{axis{quarry: "N", fromM: 205, stepM: -0.5}, 2, "203.5N"}, {axis{quarry: "N", fromM: 0, stepM: 1}, 7, "7N"},
		{axis{letters: true}, 25, "Z"}, {axis{letters: true}, 26, "AA"}, {axis{letters: true}, 51, "AZ"}, {axis{letters: true}, 52, "BA"}, {axis{letters: true}, 701, "ZZ"}, {axis{letters: true}, 702, "AAA"}, {axis{}, 0, "1"}, {axis{}, 41, "42"},
	} {
		if got := c.a.label(c.i); got != c.want {
			t.Errorf("square %d of %+v is %q, want %q", c.i, c.a, got, c.want)
		}
	}
}

// A frame whose lattice is counted from elsewhere has the same squares: corner and middle lines go by what was seen, not by the
// lattice's origin.
func TestSquaresOfALatticeCountedFromElsewhere(t *testing.T) {
	p := square(150)
	p.Corners = [4][2]float64{{-70, 20}, {30, 20}, {30, 100}, {-70, 100}} // 10 x 8, its middle at (-20, 60)
	for _, c := range []struct {
		u, v, toU, toV float64
		named          bool
		column, row    float64 // of the place (-8, 53)
	}{
		{-70, 20, 0, 20, true, 6.2, 3.3}, {30, 20, 0, 20, true, 3.8, 3.3}, {30, 100, 0, 100, true, 3.8, 4.7}, {-70, 100, -70, 50, true, 4.7, 6.2},
		{-20, 20, 30, 20, false, 0, 0}, {-20, 100, 30, 100, false, 0, 0}, {-70, 60, -70, 20, false, 0, 0}, {30, 60, 30, 20, false, 0, 0},
		{20, 20, -10, 20, true, 2.8, 3.3},
	} {
		s, why := SquaresOf(p, 10, register.SetUp{}, marked(p, c.u, c.v, c.toU, c.toV))
		if (why == "") != c.named {
			t.Errorf("(%g, %g): %q", c.u, c.v, why)
			continue
		}
		if !c.named {
			continue
		}
		if i, j := s.of(-8, 53); math.Abs(i-c.column) > 1e-9 || math.Abs(j-c.row) > 1e-9 {
			t.Errorf("from (%g, %g): %.2f along and %.2f across, want %g and %g", c.u, c.v, i, j, c.column, c.row)
		}
	}
}
