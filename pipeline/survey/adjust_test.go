package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// With errors drawn as stated, the true places lie within the uncertainty 95 times of 100, and the sum of squares is near the
// redundancy.
func TestUncertaintyHoldsTheTruth(t *testing.T) {
	for _, bearings := range []bool{true, false} {
		t.Run(fmt.Sprintf("bearings %v", bearings), func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, 1))
			inside, all, sum, freedom := 0, 0, 0.0, 0.0
			for range 20 {
				q := newQuarry(r, bearings)
				got, err := Adjust(q.network)
				if err != nil {
					t.Fatal(err)
				}
				if len(got.Conflicts) > 0 {
					continue // one in a thousand numbers is drawn as a blunder
				}
				if len(got.Placements) != 6 {
					t.Fatalf("%d placed, want 6: %v", len(got.Placements), got.NotPlaced)
				}
				sum, freedom = sum+got.SumOfSquares, freedom+got.Redundancy
				for _, p := range got.Placements {
					at := p.At(0.5, 0.5, 0, 0, 0)
					want := q.at(Place{Frame: p.Frame, XM: 0.5, YM: 0.5})
					all++
					if math.Hypot(at.EastM-want.EastM, at.NorthM-want.NorthM) <= at.UPlanM {
						inside++
					}
				}
			}
			if share := float64(inside) / float64(all); share < 0.90 || all < 100 {
				t.Errorf("%.3f of %d centres lie within U, want 0.95 or more", share, all)
			}
			if got := sum / freedom; got < 0.8 || got > 1.2 {
				t.Errorf("sum of squares over redundancy %.2f, want 1", got)
			}
		})
	}
}

func TestTiltedFrame(t *testing.T) {
	// A frame dipping 30 degrees towards the east, its x axis laid to the north: one metre along y, to the west, lies cos 30 west
	// and sin 30 up.
	n := Network{Pegs: []Peg{{Name: "datum"}}, Frames: []Frame{{"S1", 1, 1}}, Observations: []Observation{
		{Kind: Coordinates, From: Place{Frame: "S1"}, At: Point{10, 20, 0}},
		{Kind: Height, From: Place{Frame: "S1"}, At: Point{HeightM: 5}},
		{Kind: Bearing, From: Place{Frame: "S1"}, To: Place{Frame: "S1", XM: 1}, Value: 0},
		{Kind: Dip, From: Place{Frame: "S1"}, Value: 30, DirectionDeg: 90},
	}}
	got, err := Adjust(n)
	if err != nil || len(got.Placements) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	p := got.Placements[0]
	if math.Abs(p.DipDeg-30) > 1e-6 || math.Abs(p.DipTowards-90) > 1e-6 {
		t.Errorf("dip %.3f towards %.3f, want 30 towards 90", p.DipDeg, p.DipTowards)
	}
	at := p.At(0, 1, 0, 0, 0)
	want := Point{10 - math.Sqrt(3)/2, 20, 5.5}
	if math.Abs(at.EastM-want.EastM)+math.Abs(at.NorthM-want.NorthM)+math.Abs(at.HeightM-want.HeightM) > 1e-6 {
		t.Errorf("one metre along y lies at %+v, want %+v", at.Point, want)
	}
	below := p.At(0, 0, 1, 0, 0) // under the plane: down, and to the west where the plane dips east
	if math.Abs(below.EastM-(10-0.5)) > 1e-6 || math.Abs(below.HeightM-(5-math.Sqrt(3)/2)) > 1e-6 {
		t.Errorf("one metre under the origin lies at %+v", below.Point)
	}
	if len(p.Unchecked) == 0 {
		t.Error("nothing checks this placement, and it does not say so")
	}
}

func TestWhatCannotBePlaced(t *testing.T) {
	pegs := []Peg{{Name: "a"}, {Name: "b", At: Point{4, 0, 0}}}
	frames := []Frame{{"S1", 1, 1}, {"S2", 1, 1}}
	from := func(peg string, x, y, d float64) Observation {
		return Observation{Kind: LevelDistance, From: Place{Peg: peg}, To: Place{Frame: "S1", XM: x, YM: y}, Value: d, Text: "tape"}
	}
	bearing := Observation{Kind: Bearing, From: Place{Frame: "S1"}, To: Place{Frame: "S1", XM: 1}, Value: 90}
	for name, tt := range map[string]struct {
		observations []Observation
		sides        []Side
		placed       int
	}{
		"nothing measured":          {nil, nil, 0},
		"two distances alone":       {[]Observation{from("a", 0, 0, 3), from("b", 0, 0, 3)}, nil, 0},
		"either side of the line":   {[]Observation{from("a", 0, 0, 3), from("b", 0, 0, 3), bearing}, nil, 0},
		"the side of the line said": {[]Observation{from("a", 0, 0, 3), from("b", 0, 0, 3), bearing}, []Side{{Place{Frame: "S1"}, Place{Peg: "a"}, Place{Peg: "b"}, true}}, 1},
		"its place, not its turn":   {[]Observation{{Kind: Coordinates, From: Place{Frame: "S1"}, At: Point{1, 1, 0}}}, nil, 0},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Adjust(Network{Pegs: pegs, Frames: frames, Observations: tt.observations, Sides: tt.sides})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Placements) != tt.placed {
				t.Errorf("%d placed, want %d: %+v %+v", len(got.Placements), tt.placed, got.Placements, got.NotPlaced)
			}
			for _, p := range got.Placements {
				if p.Origin.NorthM < 0 {
					t.Errorf("placed right of the line, at %+v", p.Origin)
				}
			}
			for _, no := range got.NotPlaced {
				if no.Reason == "" {
					t.Errorf("%s is not placed and no reason is given", no.Frame)
				}
			}
		})
	}
}

// Sixty frames in a row of ten by six, each sharing an edge with its neighbour and taped from three pegs.
func BenchmarkAdjust(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	q := &quarry{truth: map[string][4]float64{}}
	q.network.Pegs = []Peg{{Name: "peg 1"}, {Name: "peg 2", At: Point{12, 0, 0}}, {Name: "peg 3", At: Point{0, 9, 0}}}
	for i := range 60 {
		name := fmt.Sprintf("S%d", i+1)
		q.network.Frames = append(q.network.Frames, Frame{name, 1, 1})
		q.truth[name] = [4]float64{1 + float64(i%10), 2 + float64(i/10), 0, math.Pi / 2}
		if i%10 > 0 {
			q.shared(cornerOf(fmt.Sprintf("S%d", i), 1), cornerOf(name, 0))
		}
		for _, peg := range q.network.Pegs {
			q.taped(Place{Peg: peg.Name}, cornerOf(name, 0), r.NormFloat64())
			q.taped(Place{Peg: peg.Name}, cornerOf(name, 2), r.NormFloat64())
		}
	}
	q.network.Observations[100].Value += 0.3
	for b.Loop() {
		got, err := Adjust(q.network)
		if err != nil || len(got.Placements) != 60 {
			b.Fatal(err, got.NotPlaced)
		}
	}
}
