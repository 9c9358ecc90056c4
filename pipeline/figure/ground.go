package figure

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/contour"
	"fieldjacket/calibrate/relief"
)

// A Relief is how deep the ground lies below the strings of one laid grid, as several photos tell together. It is shared by
// these photos and never changed.
type Relief struct {
	*relief.Depths
	Files   []string // the photos, the first among them; slash paths below photos/
	surface func() contour.Surface
}

// NewRelief makes depths ready to be drawn.
func NewRelief(d *relief.Depths, files []string) *Relief {
	return &Relief{d, files, sync.OnceValue(func() contour.Surface { return surfaceOf(&d.Nodes) })}
}

// A Ground is a relief as one of its photos shows it.
type Ground struct {
	*Relief
	Turn  relief.Turn      // how the photo's strings go over into the first photo's
	Plane *calibrate.Plane // the photo's own strings
	First bool             // the photo is the first of them
}

// From is "from 3 photos", with what two photos cannot tell.
func (g *Ground) From() string {
	text := fmt.Sprintf("from %d photos", g.Photos)
	if g.IfUnmoved {
		text += ", if the frame did not move"
	}
	return text
}

// toMm is a depth in cm to the millimetre, its U rounded up.
func toMm(q calibrate.Quantity) string {
	return fmt.Sprintf("%.1f ± %.1f", q.Value, math.Ceil(10*q.U-1e-6)/10)
}

// on takes a photo point to the level below the strings, in the first photo's (U, V).
func (g *Ground) on(p calibrate.Point, below float64) (u, v float64, ok bool) {
	if g.First {
		u, v, err := g.Cm(p, below)
		return u, v, err == nil
	}
	level, err := g.Plane.At(below)
	if err != nil {
		return 0, 0, false
	}
	if u, v, err = level.Cm(p); err != nil {
		return 0, 0, false
	}
	u, v = g.Turn.Cm(u, v)
	return u, v, true
}

// Own takes a place of the first photo's plane to the photo's own.
func (g *Ground) Own(u, v float64) (float64, float64) {
	u, v = u-g.Turn.ShiftCm[0], v-g.Turn.ShiftCm[1]
	for range (4 - g.Turn.Quarter%4) % 4 {
		u, v = -v, u
	}
	return u, v
}

// photo is where the photo shows a place below the strings.
func (g *Ground) photo(u, v, below float64) (calibrate.Point, bool) {
	if g.First {
		return g.Photo(u, v, below)
	}
	level, err := g.Plane.At(below)
	if err != nil {
		return calibrate.Point{}, false
	}
	return level.Photo(g.Own(u, v))
}

// middleCm is the median depth of all squares.
func (g *Ground) middleCm() float64 {
	return medianOf(g.Squares, func(s relief.Square) float64 { return s.BelowCm })
}

// Segment lays a line between two points of the photo on the ground under it; false where too little of that was measured.
func (g *Ground) Segment(a, b calibrate.Point, pickPx float64) (s relief.Segment, ok bool) {
	if len(g.Squares) == 0 {
		return s, false
	}
	if g.First {
		return g.UnderSegment(a, b, pickPx)
	}
	below := [2]float64{g.middleCm(), g.middleCm()}
	for range 4 { // by way of the ground to where the first photo shows them
		var ends [2]calibrate.Point
		for i, p := range []calibrate.Point{a, b} {
			u, v, ok := g.on(p, below[i])
			if !ok {
				return s, false
			}
			if ends[i], ok = g.Photo(u, v, below[i]); !ok {
				return s, false
			}
		}
		if s, ok = g.UnderSegment(ends[0], ends[1], pickPx); !ok {
			return s, false
		}
		below = [2]float64{s.FromCm[2], s.ToCm[2]}
	}
	return s, true
}

// Under is how deep the ground lies that the photo shows at a point; false where that was not measured.
func (g *Ground) Under(p calibrate.Point) (q calibrate.Quantity, ok bool) {
	if g.First || len(g.Squares) == 0 {
		return g.UnderPoint(p)
	}
	q.Value = g.middleCm()
	for range 4 {
		u, v, ok := g.on(p, q.Value)
		if !ok {
			return q, false
		}
		at, ok := g.Photo(u, v, q.Value)
		if !ok {
			return q, false
		}
		if q, ok = g.UnderPoint(at); !ok {
			return q, false
		}
	}
	return q, true
}

// fewestWithin is how many measured nodes tell the depth within an outline.
const fewestWithin = 15

// Within is how deep lies what the photo shows within an outline: the median of the nodes there, with U (k = 2) that also
// holds how much they differ; false where too few were measured.
func (g *Ground) Within(points []calibrate.Point) (q calibrate.Quantity, ok bool) {
	q.Value = g.middleCm()
	for range 4 {
		var round [][2]float64
		for _, p := range points {
			u, v, ok := g.on(p, q.Value)
			if !ok {
				return q, false
			}
			round = append(round, [2]float64{u, v})
		}
		var in []node
		for r := range g.Nodes.Rows {
			for c := range g.Nodes.Columns {
				if below, u, ok := g.Nodes.At(c, r); ok {
					if x, y := g.Nodes.PlaceCm(c, r); inside(round, x, y) {
						in = append(in, node{below, u})
					}
				}
			}
		}
		if len(in) < fewestWithin {
			return q, false
		}
		q = together(in)
	}
	return q, true
}

// A node is a measured depth with its U.
type node struct{ below, u float64 }

// together is the median of depths with U: a node's own and how much they differ (1.48 times the median deviation, k = 2).
func together(in []node) (q calibrate.Quantity) {
	q.Value = medianOf(in, func(n node) float64 { return n.below })
	spread := 2 * 1.48 * medianOf(in, func(n node) float64 { return math.Abs(n.below - q.Value) })
	q.U = math.Hypot(medianOf(in, func(n node) float64 { return n.u }), spread)
	return q
}

// Middle is how deep the ground lies in the middle of the strings, where a bone is laid out as a rule: of the squares in the
// inner half of either way; false where none was measured.
func (g *Ground) Middle() (q calibrate.Quantity, ok bool) {
	inner := func(i, n int) bool { return 4*i+2 >= n && 4*i+2 <= 3*n }
	var in []node
	for _, s := range g.Squares {
		if inner(s.Column, g.Columns) && inner(s.Row, g.Rows) {
			in = append(in, node{s.BelowCm, s.UBelowCm})
			if s.HighCm > 0 {
				in = append(in, node{s.HighCm, s.UBelowCm})
			}
		}
	}
	if len(in) == 0 {
		return q, false
	}
	return together(in), true
}

// along is how deep lies what is under a line: of its middle, with U that also holds how much the line slopes and how far the
// ground leaves it.
func (g *Ground) along(a, b calibrate.Point) (q calibrate.Quantity, ok bool) {
	s, ok := g.Segment(a, b, 0)
	slope := s.ToCm[2] - s.FromCm[2]
	return calibrate.Quantity{Value: s.BelowCm.Value, U: math.Hypot(s.BelowCm.U, 2*math.Hypot(s.OffCm, slope/math.Sqrt(12)))}, ok
}

// scaleAt is [AtDepth] by what the photos told together: their adjustment knows the first photo's focal length better than its
// tag does.
func (g *Ground) scaleAt(d Depth, u, v float64) (share, relU float64, ok bool) {
	level, err := g.Plane.At(0)
	own, err2 := level.ScalePxPerCm(u, v)
	far, known := g.Plane.DistanceCm()
	if err != nil || err2 != nil || !known {
		return 0, 0, false
	}
	uFocal := far.U / 2 / far.Value
	if f := g.Focal(); g.First && f.Value > 0 {
		uFocal = f.U / 2 / f.Value
	}
	// A square of 2 cm at the depth, seen on the plane.
	x, y := g.Turn.Cm(u, v)
	var at [4][2]float64
	for i, o := range [4][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		p, ok := g.photo(x+o[0], y+o[1], d.Cm)
		a, b, err := level.Cm(p)
		if !ok || err != nil {
			return 0, 0, false
		}
		at[i] = [2]float64{a, b}
	}
	area := (at[1][0]-at[0][0])*(at[3][1]-at[2][1]) - (at[1][1]-at[0][1])*(at[3][0]-at[2][0])
	share = math.Sqrt(math.Abs(area)) / 2
	away := far.Value + d.Cm
	relU = math.Hypot(own.U/own.Value, math.Hypot(2*uFocal*d.Cm/away, d.U/away))
	return share, relU, share > 0
}

// inside tells whether a place lies within a closed line (crossing number).
func inside(round [][2]float64, x, y float64) (in bool) {
	for i, a := range round {
		b := round[(i+1)%len(round)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func medianOf[T any](all []T, of func(T) float64) float64 {
	if len(all) == 0 {
		return 0
	}
	v := make([]float64, len(all))
	for i := range all {
		v[i] = of(all[i])
	}
	slices.Sort(v)
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}
