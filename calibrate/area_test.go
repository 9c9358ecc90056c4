package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// ring are places round (40, 40) cm of a grid, as a circle of that radius
// shows them.
func (g laidGrid) ring(n int, radiusCm, uPickPx float64, rng *rand.Rand) (outline []Point) {
	for i := range n {
		angleRad := 2 * math.Pi * float64(i) / float64(n)
		p, _ := g.see(40+radiusCm*math.Cos(angleRad), 40+radiusCm*math.Sin(angleRad))
		outline = append(outline, Point{p.XPx + uPickPx*rng.NormFloat64(), p.YPx + uPickPx*rng.NormFloat64()})
	}
	return outline
}

// TestAreasLieInsideU: the area of a regular polygon (n/2 r² sin(2 pi/n)) seen
// by a tilted camera, from picked corners and a picked outline.
func TestAreasLieInsideU(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	const n, radius, pick = 12, 20.0, 2.0
	want := n / 2 * radius * radius * math.Sin(2*math.Pi/n)
	inside, all, sumU := 0, 300, 0.0
	for range all {
		g := tilted(rng, 45*rng.Float64())
		p, err := FitCorners(gridRef(t, cells8), g.camera, g.seenCorners(rng, pick), pick)
		if err != nil {
			t.Fatal(err)
		}
		level, _ := p.At(0)
		got, err := level.PickedAreaCm2(g.ring(n, radius, pick, rng), pick)
		if err != nil {
			t.Fatal(err)
		}
		if sumU += got.U / got.Value; math.Abs(got.Value-want) <= got.U {
			inside++
		}
	}
	t.Logf("%d of %d inside U, mean U %.1f %%", inside, all, 100*sumU/float64(all))
	if inside < all*93/100 {
		t.Errorf("%d of %d inside U, want 93 %%", inside, all)
	}
	if mean := sumU / float64(all); mean > 0.1 {
		t.Errorf("mean U of %.1f %% says nothing", 100*mean)
	}
}

// TestNoArea of what is no outline.
func TestNoArea(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	g := tilted(rng, 20)
	p, err := FitCorners(gridRef(t, cells8), g.camera, g.seenCorners(rng, 1), 1)
	if err != nil {
		t.Fatal(err)
	}
	level, _ := p.At(0)
	o := g.ring(4, 20, 0, rng)
	if _, err := level.PickedAreaCm2([]Point{o[0], o[2], o[1], o[3]}, 1); err == nil {
		t.Error("an outline that crosses itself has an area")
	}
	if _, err := level.PickedAreaCm2(o[:2], 1); err == nil {
		t.Error("a line has an area")
	}
	a, err := level.PickedAreaCm2(o, 1)
	b, err2 := level.PickedAreaCm2([]Point{o[3], o[2], o[1], o[0]}, 1)
	if err != nil || err2 != nil || math.Abs(a.Value-b.Value) > 1e-9 {
		t.Errorf("%v, the other way round %v (%v, %v)", a, b, err, err2)
	}
}
