package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// An exact grid, seen with noise: the stated uncertainty holds.
func TestGridLengthsLieInsideU(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	inside, n := 0, 0
	for range 30 {
		g := tilted(rng, 35*rng.Float64())
		g.noisePx = 0.3
		p, err := FitGrid(gridRef(t, exactly), g.camera, g.marks(rng))
		if err != nil {
			t.Fatal(err)
		}
		in, worst, u := g.lengthErrors(t, p, rng, 20)
		inside, n = inside+in, n+20
		if worst > 0.2 || u > 0.1 {
			t.Errorf("error %.3f %%, U %.3f %% of the length: want below 0.2 and 0.1", worst, u)
		}
	}
	if share := float64(inside) / float64(n); share < 0.9 {
		t.Errorf("truth inside U for %.1f %% of lengths, want 90 at least", 100*share)
	}
}

// Strings off their marks within the tolerance: U covers it and is no larger
// than a person can use.
func TestGridStringsOffTheirMarks(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	inside, n := 0, 0
	for range 30 {
		g := tilted(rng, 40*rng.Float64())
		g.noisePx, g.offCm = 0.3, 0.3
		p, err := FitGrid(gridRef(t, nil), g.camera, g.marks(rng))
		if err != nil {
			t.Fatal(err)
		}
		in, _, u := g.lengthErrors(t, p, rng, 20)
		inside, n = inside+in, n+20
		if u > 2.5 {
			t.Errorf("U of %.2f %% of the length, want 2.5 at most", u)
		}
	}
	if share := float64(inside) / float64(n); share < 0.95 {
		t.Errorf("truth inside U for %.1f %% of lengths, want 95 at least", 100*share)
	}
}

// Strings that are tied where they happened to be, each end up to 1.2 of 10 cm
// off its place, woven over and under, in a frame that stands up to 1 cm out
// of its plane at the corners: U covers it, and is of the size of the errors.
func TestGridUnevenStrings(t *testing.T) {
	for _, tilt := range []float64{5, 30, 50, 65} {
		rng := rand.New(rand.NewPCG(3, 11))
		inside, n, refused, sum, worsts := 0, 0, 0, 0.0, 0.0
		for range 30 {
			g := tilted(rng, tilt)
			g.noisePx, g.endCm, g.edgeCm, g.twistCm = 0.5, 1.2, 0.15, 2*rng.Float64()-1
			p, err := FitGrid(gridRef(t, nil), g.camera, g.marks(rng))
			if err != nil {
				refused++
				continue
			}
			if !p.Uneven {
				t.Errorf("tilt %g: taken for tidy", tilt)
			}
			in, worst, u := g.lengthErrors(t, p, rng, 20)
			inside, n, sum, worsts = inside+in, n+20, sum+u, worsts+worst
		}
		fitted := float64(30 - refused)
		if share := float64(inside) / float64(n); refused > 15 || share < 0.93 || sum/fitted > 8 || sum < worsts/4 {
			t.Errorf("tilt %g: %d of 30 refused, truth inside U for %.1f %% of lengths, U %.1f %% of the length, worst errors %.1f %%", tilt, refused, 100*share, sum/fitted, worsts/fitted)
		}
	}
}

// So few strings so far off their places that a length would be known to more
// than a tenth are refused.
func TestGridTooUnevenToTell(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 12))
	g := tilted(rng, 68)
	g.across, g.down, g.noisePx, g.endCm, g.edgeCm = 3, 4, 0.5, 1.4, 0.3
	_, err := FitGrid(gridRef(t, nil), g.camera, g.marks(rng))
	var refusal *Refusal
	if !errors.As(err, &refusal) || !strings.Contains(refusal.Reason, "so uneven or so few") {
		t.Errorf("%v, want a refusal for its U", err)
	}
}

func TestGridRefusals(t *testing.T) {
	wild := func(change func(*laidGrid)) func(*rand.Rand) laidGrid {
		return func(rng *rand.Rand) laidGrid {
			g := tilted(rng, 15)
			g.noisePx = 0.3
			change(&g)
			return g
		}
	}
	for _, c := range []struct {
		name string
		ref  func(*Reference)
		grid func(*rand.Rand) laidGrid
		want string
	}{
		{"two strings one way", nil, wild(func(g *laidGrid) { g.across = 2 }), "need 3 and 4"},
		{"strings all over", nil, wild(func(g *laidGrid) { g.offCm = 3 }), "off an even pitch"},
		{"marks that wander", nil, wild(func(g *laidGrid) { g.noisePx = 25 }), "wander"},
		{"twice the frame's cells", func(r *Reference) { r.CellsAcross, r.CellsDown = 4, 4 }, wild(func(g *laidGrid) {}), "pitch is in doubt"},
		{"half the frame's cells", func(r *Reference) { r.CellsAcross, r.CellsDown = 16, 16 }, wild(func(g *laidGrid) { g.pitch, g.across, g.down = 5, 9, 9 }), "pitch is in doubt"},
		{"half the frame's cells, one way out of the picture", func(r *Reference) { r.CellsAcross, r.CellsDown = 20, 20 }, wild(func(g *laidGrid) { g.pitch, g.across, g.down = 5, 9, 24 }), "pitch is in doubt"},
		{"pushed over by 12 degrees", nil, wild(func(g *laidGrid) { g.rackDeg = 12 }), "not square"},
		{"an exact frame that is not square", exactly, wild(func(g *laidGrid) { g.rackDeg = 3 }), "not square"},
		{"from far too low", nil, func(rng *rand.Rand) laidGrid { return tilted(rng, 79.5) }, "tilt of 79"},
	} {
		rng := rand.New(rand.NewPCG(3, 5))
		g := c.grid(rng)
		ref := gridRef(t, c.ref)
		_, err := FitGrid(ref, g.camera, g.marks(rng))
		var refusal *Refusal
		if !errors.As(err, &refusal) || !strings.Contains(refusal.Reason, c.want) || refusal.Retake == "" {
			t.Errorf("%s: %v, want a refusal with %q and advice", c.name, err, c.want)
		}
	}
}

// The cells of a frame in view agree with its count.
func TestGridCellsAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 6))
	g := tilted(rng, 10)
	for _, cells := range [][2]int{{8, 8}, {10, 10}, {8, 10}} {
		ref := gridRef(t, func(r *Reference) { r.CellsAcross, r.CellsDown = cells[0], cells[1] })
		if _, err := FitGrid(ref, g.camera, g.marks(rng)); err != nil {
			t.Errorf("nine strings each way in a frame of %d x %d cells: %v", cells[0], cells[1], err)
		}
	}
}

// An outermost string that the frame half hides does not pull the plane.
func TestGridHiddenEdgeString(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 7))
	g := tilted(rng, 20)
	g.noisePx = 0.2
	marks := g.marks(rng)
	for i := range marks {
		if marks[i].Line == 1 {
			marks[i].At.XPx += 5
			marks[i].At.YPx += 5
		}
	}
	p, err := FitGrid(gridRef(t, exactly), g.camera, marks)
	if err != nil {
		t.Fatal(err)
	}
	if _, worst, _ := g.lengthErrors(t, p, rng, 40); worst > 0.1 {
		t.Errorf("error of %.3f %%, want 0.1 at most", worst)
	}
}

// A grid of twice the pitch makes every length twice as long, with twice the U
// where the grid is exact.
func TestGridLengthsGoWithThePitch(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 8))
		factor := rapid.Float64Range(0.2, 5).Draw(rt, "factor")
		g := tilted(rng, rapid.Float64Range(0, 45).Draw(rt, "tilt"))
		g.noisePx = 0.3
		marks := g.marks(rng)
		one, err1 := FitGrid(gridRef(t, exactly), g.camera, marks)
		for i := range marks {
			marks[i].UCm *= factor
			marks[i].VCm *= factor
		}
		two, err2 := FitGrid(gridRef(t, func(r *Reference) { exactly(r); r.PitchCm *= factor }), g.camera, marks)
		if err1 != nil || err2 != nil {
			rt.Fatal(err1, err2)
		}
		l1, _ := one.At(0)
		l2, _ := two.At(0)
		a, b := Point{1500, 1200}, Point{2500, 1900}
		q1, _ := l1.LengthCm(a, b)
		q2, _ := l2.LengthCm(a, b)
		if math.Abs(q2.Value/q1.Value/factor-1) > 1e-5 || math.Abs(q2.U/q1.U/factor-1) > 0.02 {
			rt.Fatalf("pitch x %g: length %g ± %g became %g ± %g", factor, q1.Value, q1.U, q2.Value, q2.U)
		}
	})
}

// Whatever marks come, there is a plane that holds or an error; never a panic.
func FuzzFitGrid(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9}, 10.0, 26.0)
	f.Add([]byte("a grid of strings over rough ground"), 5.0, 0.0)
	f.Fuzz(func(t *testing.T, raw []byte, pitch, focal float64) {
		ref := Reference{Kind: KindGrid, PitchCm: pitch}
		var marks []Mark
		for i := 0; i+5 <= len(raw) && len(marks) < 400; i += 5 {
			m := Mark{At: Point{float64(raw[i]) * 16, float64(raw[i+1]) * 12}, Pins: Pins(raw[i+2] % 4), Line: int(raw[i+3] % 24), Edge: int(raw[i+4])}
			m.UCm, m.VCm = float64(raw[i+3]%12)*pitch, float64(raw[i+3]%12)*pitch
			marks = append(marks, m)
		}
		p, err := FitGrid(ref, Camera{4032, 3024, focal}, marks)
		if err == nil {
			if err := p.Validate(); err != nil {
				t.Fatal(err)
			}
		}
	})
}
