package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// seenCorners are the outer crossings of an 8 x 8 grid as a camera sees them,
// each picked with a normal error.
func (g laidGrid) seenCorners(rng *rand.Rand, pickPx float64) (corners [4]Point) {
	for i, c := range [4][2]float64{{0, 0}, {80, 0}, {80, 80}, {0, 80}} {
		p, _ := g.see(c[0], c[1])
		corners[i] = Point{p.XPx + pickPx*rng.NormFloat64(), p.YPx + pickPx*rng.NormFloat64()}
	}
	return corners
}

func cells8(r *Reference) { r.CellsAcross, r.CellsDown = 8, 8 }

// TestCornersAreExact: exact corners of a lens without a fault give exact
// lengths.
func TestCornersAreExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for tilt := 0.0; tilt <= 45; tilt += 5 {
		g := tilted(rng, tilt)
		g.truth[8] = 0
		p, err := FitCorners(gridRef(t, func(r *Reference) { cells8(r); exactly(r) }), g.camera, g.seenCorners(rng, 0), 1)
		if err != nil {
			t.Fatalf("tilt %g: %v", tilt, err)
		}
		if _, worst, _ := g.lengthErrors(t, p, rng, 50); worst > 1e-6 {
			t.Errorf("tilt %g: off by %g %%", tilt, worst)
		}
	}
}

// TestPickedCornersLieInsideU: with corners picked to 1, 3 and 8 px, U holds
// the truth about as often as k = 2 asks (95 %), whatever the tilt.
func TestPickedCornersLieInsideU(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, pick := range []float64{1, 3, 8} {
		inside, n, sumU := 0, 0, 0.0
		for range 120 {
			g := tilted(rng, 45*rng.Float64())
			p, err := FitCorners(gridRef(t, cells8), g.camera, g.seenCorners(rng, pick), pick)
			if err != nil {
				t.Fatalf("picked to %g px: %v", pick, err)
			}
			in, _, u := g.lengthErrors(t, p, rng, 20)
			inside, n, sumU = inside+in, n+20, sumU+u
		}
		share := float64(inside) / float64(n)
		t.Logf("picked to %g px: %.1f %% inside U, mean U %.2f %%", pick, 100*share, sumU/120)
		if share < 0.93 {
			t.Errorf("picked to %g px: %.1f %% inside U, want 93", pick, 100*share)
		}
	}
}

// TestCornersRefused: what would mirror the plane, or cannot be that reference.
func TestCornersRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	g := tilted(rng, 20)
	good := g.seenCorners(rng, 2)
	turned := good
	slices.Reverse(turned[:])
	crossed := good
	crossed[1], crossed[2] = crossed[2], crossed[1]
	for name, c := range map[string]struct {
		change  func(*Reference)
		corners [4]Point
		pickPx  float64
		want    string
	}{
		"mirrored":                {cells8, turned, 3, "anticlockwise"},
		"crossed":                 {cells8, crossed, 3, "do not go round"},
		"all in one place":        {cells8, [4]Point{}, 3, "a side of 0 px"},
		"small beside the picks":  {cells8, good, 900, "px, need 7200"},
		"a side counted wrong":    {func(r *Reference) { r.CellsAcross, r.CellsDown = 8, 6 }, good, 3, "sides in the ratio"},
		"no number of cells":      {func(*Reference) {}, good, 3, "say how many squares"},
		"no uncertainty of picks": {cells8, good, 0, "want over 0"},
	} {
		p, err := FitCorners(gridRef(t, c.change), g.camera, c.corners, c.pickPx)
		if err == nil || p != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	var refusal *Refusal
	if _, err := FitCorners(gridRef(t, cells8), g.camera, turned, 3); !errors.As(err, &refusal) || refusal.Retake == "" {
		t.Errorf("%v: want a refusal that tells what to do", err)
	}
	if _, err := FitCorners(Reference{Kind: KindBar, LengthCm: 10, BlockCm: 1}, g.camera, good, 3); err == nil || !strings.Contains(err.Error(), "two ends as points") {
		t.Errorf("bar: %v", err)
	}
}

// TestTurnedCornersGiveTheSameLengths: which corner is named first changes no
// length on a square grid.
func TestTurnedCornersGiveTheSameLengths(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	g := tilted(rng, 30)
	corners := g.seenCorners(rng, 3)
	a, _ := g.see(10, 20)
	b, _ := g.see(60, 70)
	var first Quantity
	for turn := range 4 {
		p, err := FitCorners(gridRef(t, cells8), g.camera, corners, 3)
		if err != nil {
			t.Fatal(err)
		}
		level, _ := p.At(0)
		q, err := level.LengthCm(a, b)
		if err != nil {
			t.Fatal(err)
		}
		if turn == 0 {
			first = q
		} else if math.Abs(q.Value-first.Value) > 0.002*first.Value || math.Abs(q.U-first.U) > 0.1*first.U {
			t.Errorf("turned %d times: %v, not %v", turn, q, first)
		}
		corners = [4]Point{corners[1], corners[2], corners[3], corners[0]}
	}
}
