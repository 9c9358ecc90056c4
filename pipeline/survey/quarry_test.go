package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// A quarry is six frames of a metre square about two pegs, with exact places; invented.
type quarry struct {
	network Network
	truth   map[string][4]float64 // east, north, height, bearing in radians
}

var quarryCorners = [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}}

func cornerOf(frame string, k int) Place {
	return Place{Frame: frame, XM: quarryCorners[k][0], YM: quarryCorners[k][1], Name: fmt.Sprintf("corner %d of %s", k+1, frame)}
}

func (q quarry) at(p Place) Point {
	if p.Peg != "" {
		for _, peg := range q.network.Pegs {
			if peg.Name == p.Peg {
				return peg.At
			}
		}
	}
	t := q.truth[p.Frame]
	sin, cos := math.Sincos(t[3])
	return Point{t[0] + p.XM*sin - p.YM*cos, t[1] + p.XM*cos + p.YM*sin, t[2]}
}

// taped measures a distance with an error of one standard uncertainty times by.
func (q *quarry) taped(from, to Place, by float64) {
	a, b := q.at(from), q.at(to)
	d := math.Hypot(math.Hypot(a.EastM-b.EastM, a.NorthM-b.NorthM), a.HeightM-b.HeightM)
	q.network.Observations = append(q.network.Observations, Observation{Kind: Distance, From: from, To: to, Value: d + by*DefaultUDistanceM,
		Text: fmt.Sprintf("distance from %v to %v", from, to)})
}

func (q *quarry) levelled(p Place, by float64) {
	q.network.Observations = append(q.network.Observations, Observation{Kind: Height, From: p, U: 0.01,
		At: Point{HeightM: q.at(p).HeightM + by*0.01}, Text: fmt.Sprintf("height of %v", p)})
}

func (q *quarry) sighted(frame string, by float64) {
	q.network.Observations = append(q.network.Observations, Observation{Kind: Bearing, From: cornerOf(frame, 0), To: cornerOf(frame, 1),
		Value: q.truth[frame][3]*180/math.Pi + by, Text: "bearing of " + frame})
}

func (q *quarry) shared(a, b Place) {
	q.network.Observations = append(q.network.Observations, Observation{Kind: Same, From: a, To: b,
		Text: fmt.Sprintf("%v is %v", a, b)})
}

// newQuarry lays frames 1 to 4 beside each other along an edge, each but the first sharing an edge with the one before, and 5 and
// 6 alone; corners are taped from three pegs, with errors drawn from r.
func newQuarry(r *rand.Rand, bearings bool) *quarry {
	q := &quarry{truth: map[string][4]float64{}}
	q.network.Pegs = []Peg{{Name: "peg 1"}, {Name: "peg 2", At: Point{4, 0, 0.1}}, {Name: "peg 3", At: Point{0.2, 5, -0.2}}}
	turn := r.Float64() * 2 * math.Pi
	sin, cos := math.Sincos(turn)
	for i := range 6 {
		name := fmt.Sprintf("S%d", i+1)
		q.network.Frames = append(q.network.Frames, Frame{Name: name, SizeXM: 1, SizeYM: 1})
		if i < 4 { // along the x axis of the first
			q.truth[name] = [4]float64{2 + float64(i)*sin, 1.5 + float64(i)*cos, 0.3, turn}
		} else {
			q.truth[name] = [4]float64{r.Float64()*3 + 1, r.Float64()*4 + 1, r.Float64() * 0.5, r.Float64() * 2 * math.Pi}
		}
	}
	for i, f := range q.network.Frames {
		if i > 0 && i < 4 {
			before := q.network.Frames[i-1].Name
			q.shared(cornerOf(before, 1), cornerOf(f.Name, 0))
			q.shared(cornerOf(before, 2), cornerOf(f.Name, 3))
		}
		q.levelled(cornerOf(f.Name, 0), r.NormFloat64())
		for _, peg := range q.network.Pegs {
			for _, k := range []int{0, 2} {
				q.taped(Place{Peg: peg.Name}, cornerOf(f.Name, k), r.NormFloat64())
			}
		}
		q.taped(Place{Peg: "peg 1"}, cornerOf(f.Name, 1), r.NormFloat64())
		q.taped(Place{Peg: "peg 2"}, cornerOf(f.Name, 3), r.NormFloat64())
		if bearings {
			q.sighted(f.Name, r.NormFloat64())
		}
	}
	return q
}
