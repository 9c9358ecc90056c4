package plate

import (
	"fmt"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/register"
)

// A Part is what of a plate is drawn; the zero value is what a plate shows by itself.
type Part struct {
	Whole   bool
	Squares string // "C3..E5", or one square
	Find    string // the find whose outline, or marked ends, it shows
}

// How much is shown beside a part, as a share of its longer side, and how far a bone is taken to reach to either side of the line
// between its ends where nobody outlined it (common practice, no source).
const (
	besideSquares = 0.02
	besideFind    = 0.05
	reachShare    = 0.1
)

// Of gives the input whose plate of a jacket shows that part alone. An error says why the photo does not tell where it lies.
func (p Part) Of(in Input, number string) (Input, error) {
	if in.Whole = p.Whole; p.Whole || p.Squares == "" && p.Find == "" {
		return in, nil
	}
	plane, sighting := in.Plane()
	if plane == nil {
		return in, fmt.Errorf("the photo has no scale, so no part of it is known")
	}
	d := draft{Input: in}
	var err error
	if p.Squares != "" {
		in.part, err = d.squaresNamed(p.Squares, number, sighting)
	} else {
		in.part, err = d.findShown(p.Find, number, plane)
		in.Turned = map[string]Way{number: ByEnds} // a long bone takes the fewest sheets upright
	}
	if err != nil {
		return in, err
	}
	if _, ok := layout.Scaled(plane, layout.Want{Show: in.part.Show}); !ok {
		return in, fmt.Errorf("the photo does not show it")
	}
	return in, nil
}

// squaresNamed are the corners of named squares, two of which lie at opposite corners of the part.
func (d *draft) squaresNamed(names, number string, sighting *calibrate.Sighting) (*layout.Want, error) {
	_, named := d.edge(d.SetUp(number), d.marks(), sighting)
	if named.Squares == nil {
		why := named.Why
		if why == "" {
			why = "the photo belongs to no set-up, or shows no strings"
		}
		return nil, fmt.Errorf("its squares are not named: %s", why)
	}
	if len(named.Against) > 0 {
		return nil, fmt.Errorf("its squares are contradicted: %s", strings.Join(named.Against, "; "))
	}
	want := &layout.Want{Margin: besideSquares}
	for _, name := range strings.Split(names, "..") {
		corners, ok := named.Squares.Corners(name)
		if !ok {
			return nil, fmt.Errorf("no square %q: its squares are %s", name, named.Squares)
		}
		want.Show = append(want.Show, corners[:]...)
	}
	lo, hi := want.Show[0], want.Show[0] // strings run along the plane's own directions
	for _, c := range want.Show {
		lo, hi = [2]float64{min(lo[0], c[0]), min(lo[1], c[1])}, [2]float64{max(hi[0], c[0]), max(hi[1], c[1])}
	}
	want.Show = [][2]float64{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}
	return want, nil
}

// findShown are the outline of a find and its marked ends.
func (d *draft) findShown(number, jacket string, plane *calibrate.Plane) (*layout.Want, error) {
	finds := d.Sheets.FindsOf(jacket)
	var find *register.Find
	for i := range finds {
		if strings.EqualFold(finds[i].FieldNumber, strings.TrimSpace(number)) {
			find = &finds[i]
		}
	}
	if find == nil {
		return nil, fmt.Errorf("the jacket holds no find %q", number)
	}
	level, err := plane.At(0)
	if err != nil {
		return nil, err
	}
	want := &layout.Want{Margin: besideFind}
	add := func(p calibrate.Point) {
		if u, v, err := level.Cm(p); err == nil {
			want.Show = append(want.Show, [2]float64{u, v})
		}
	}
	for _, o := range d.marks().Outlines {
		if o.Of == "bone" && (len(finds) == 1 || named(o.Name, find)) {
			for _, p := range o.Points {
				add(p)
			}
		}
	}
	if a, b := figure.MarkedEnds(d.marks().Ends, finds, *find); a != nil && b != nil {
		outlined := len(want.Show) > 0
		add(a.At)
		add(b.At)
		if !outlined && len(want.Show) == 2 {
			for _, p := range want.Show {
				du, dv := reachShare*(want.Show[1][0]-want.Show[0][0]), reachShare*(want.Show[1][1]-want.Show[0][1])
				want.Show = append(want.Show, [2]float64{p[0] - dv, p[1] + du}, [2]float64{p[0] + dv, p[1] - du})
			}
		}
	}
	if len(want.Show) < 2 {
		return nil, fmt.Errorf("nobody outlined find %s in this photo, or marked both its ends: do so with fieldjacket review", find.FieldNumber)
	}
	return want, nil
}

// named tells whether an outline has a find's name: its number, its element or what it is.
func named(outline string, f *register.Find) bool {
	for _, name := range []string{f.FieldNumber, f.Element, f.What} {
		if name != "" && strings.EqualFold(strings.TrimSpace(outline), name) {
			return true
		}
	}
	return false
}
