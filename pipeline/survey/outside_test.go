package survey

import (
	"math"
	"testing"
)

// One frame by eight level tapes from three pegs, held against R 4.2.2: nls(d ~ f(E, N, T)), which gave E 1.98919081543,
// N 3.00291162590, T 1.10003157958 rad, a sum of squares of 3.992807 over the 1 cm of a tape, and the covariance below with that
// centimetre as standard uncertainty. The distances are invented.
func TestOneFrameAsByR(t *testing.T) {
	pegs := []Peg{{Name: "1"}, {Name: "2", At: Point{4, 0, 0}}, {Name: "3", At: Point{0.2, 5, 0}}}
	n := Network{Pegs: pegs, Frames: []Frame{{"S", 1, 1}}}
	for i, d := range []float64{3.597, 3.619, 2.678, 4.505, 3.644, 3.098, 4.183, 4.611} {
		peg := []string{"1", "2", "3", "1", "2", "3", "1", "2"}[i]
		corner := Place{Frame: "S", XM: []float64{0, 0, 0, 1, 1, 1, 0, 1}[i], YM: []float64{0, 0, 0, 0, 0, 0, 1, 1}[i]}
		n.Observations = append(n.Observations, Observation{Kind: LevelDistance, From: Place{Peg: peg}, To: corner, Value: d, U: 0.01})
	}
	// R takes the frame as exactly level.
	n.Observations = append(n.Observations, Observation{Kind: Dip, From: Place{Frame: "S"}, U: 0.01})
	got, err := Adjust(n)
	if err != nil || len(got.Placements) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	p := got.Placements[0]
	for name, pair := range map[string][2]float64{
		"east":                 {p.Origin.EastM, 1.98919081543},
		"north":                {p.Origin.NorthM, 3.00291162590},
		"bearing":              {p.BearingDeg * math.Pi / 180, 1.10003157958},
		"variance of east":     {p.cofactor.At(0, 0) * 1e3, 5.0303037e-05 * 1e3},
		"variance of north":    {p.cofactor.At(1, 1) * 1e3, 2.2597283e-05 * 1e3},
		"variance of bearing":  {p.cofactor.At(3, 3) * 1e3, 4.8492062e-05 * 1e3},
		"covariance east turn": {p.cofactor.At(0, 3) * 1e3, -2.1869530e-05 * 1e3},
		"sum of squares":       {got.SumOfSquares, 3.992807},
	} {
		if math.Abs(pair[0]-pair[1]) > 2e-2*math.Abs(pair[1])*boolTo(name[0] == 'v' || name[0] == 'c')+1e-3*boolTo(name == "sum of squares")+3e-5 {
			t.Errorf("%s %.8f, R gives %.8f", name, pair[0], pair[1])
		}
	}
	// Five numbers more than unknowns; the level of the plane checks nothing.
	if math.Abs(got.Redundancy-5) > 0.1 {
		t.Errorf("redundancy %.3f, want 5", got.Redundancy)
	}
}

func boolTo(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// The worked example of trilateration in Norrdine, An algebraic solution to the multilateration problem, IPIN 2012: six reference
// points, the point in question at 26.759, -1.342, 1.13 m. Here the point is a frame's origin, its direction given.
func TestTrilaterationOfNorrdine(t *testing.T) {
	at := []Point{{27.297, -4.953, 1.47}, {20.693, -4.849, 1.93}, {22.590, 0.524, 1.2}, {17.113, -3.003, 2.17}, {22.554, 4.727, 1.77}, {22.447, -7.880, 1.6}}
	want := Point{26.759, -1.342, 1.13}
	n := Network{Frames: []Frame{{"N", 1, 1}}, Observations: []Observation{
		{Kind: Bearing, From: Place{Frame: "N"}, To: Place{Frame: "N", XM: 1}, Value: 0},
		{Kind: Height, From: Place{Frame: "N"}, At: Point{HeightM: 1.1}, U: 0.1},
	}}
	for i, p := range at {
		name := string(rune('a' + i))
		n.Pegs = append(n.Pegs, Peg{Name: name, At: p})
		d := math.Sqrt(math.Pow(p.EastM-want.EastM, 2) + math.Pow(p.NorthM-want.NorthM, 2) + math.Pow(p.HeightM-want.HeightM, 2))
		n.Observations = append(n.Observations, Observation{Kind: Distance, From: Place{Peg: name}, To: Place{Frame: "N"}, Value: math.Round(d*1000) / 1000, U: 0.002})
	}
	got, err := Adjust(n)
	if err != nil || len(got.Placements) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	p := got.Placements[0].Origin
	if math.Hypot(p.EastM-want.EastM, p.NorthM-want.NorthM) > 0.002 || math.Abs(p.HeightM-want.HeightM) > 0.02 {
		t.Errorf("at %+v, want %+v", p, want)
	}
}
