package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestLitStringsAreInU: every string's light moved outwards, the outermost by
// one standard uncertainty, looks like another pitch. With the strings' width
// the error is one standard uncertainty; without it U knows nothing of it.
func TestLitStringsAreInU(t *testing.T) {
	const widthPx = 8.0
	rng := rand.New(rand.NewPCG(5, 5))
	g := tilted(rng, 0)
	g.noisePx = 0.1
	pxPerCm := g.camera.unit() / 120
	moved := litShare * widthPx / pxPerCm / 40 // of 40 cm from the middle to the outermost
	g.pitch *= 1 + moved
	marks := g.marks(rng)
	g.pitch = 10
	for _, width := range []float64{widthPx, 0} {
		for i := range marks {
			marks[i].WidthPx = width
			marks[i].UCm = math.Round(marks[i].UCm/10) * 10
			marks[i].VCm = math.Round(marks[i].VCm/10) * 10
		}
		p, err := FitGrid(gridRef(t, exactly), g.camera, marks)
		if err != nil {
			t.Fatal(err)
		}
		level, _ := p.At(0)
		for _, to := range [][2]float64{{70, 10}, {10, 70}} {
			a, _ := g.see(10, 10)
			b, _ := g.see(to[0], to[1])
			q, err := level.LengthCm(a, b)
			if err != nil {
				t.Fatal(err)
			}
			errorOverU := math.Abs(q.Value-60) / (q.U / 2)
			if width > 0 && (errorOverU < 0.7 || errorOverU > 1.15) {
				t.Errorf("to %v: %.4f cm for 60, error over u %.2f, want about 1", to, q.Value, errorOverU)
			}
			if width == 0 && errorOverU < 1.5 {
				t.Errorf("to %v: without a width the error over u is %.2f: the check shows nothing", to, errorOverU)
			}
		}
	}
	marks[0].WidthPx = -1
	if _, err := FitGrid(gridRef(t, exactly), g.camera, marks); err == nil {
		t.Error("a string of less than no width was fitted")
	}
}
