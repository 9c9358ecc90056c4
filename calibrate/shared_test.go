package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestSharedErrorsAreTold: strings off their places, pieces of them off the
// rest and noise, of known sizes, on whole grids and on a few strings. The fit
// must find the sizes, and lengths must keep what U promises: the truth within
// U for 95 of 100, errors as large as the standard uncertainty.
func TestSharedErrorsAreTold(t *testing.T) {
	for _, c := range []struct {
		name                   string
		across, down           int
		offCm, edgeCm, noise   float64
		photos                 int
		uncertain              float64 // share by which the variances found may be off, over all photos
		leastInside, mostOverU float64
	}{
		{"noise alone", 9, 9, 0, 0, 0.3, 40, 0.1, 0.92, 1.1},
		{"strings off", 11, 11, 0.03, 0, 0.3, 40, 0.25, 0.92, 1.1},
		{"strings and pieces off", 9, 9, 0.02, 0.01, 0.2, 60, 0.25, 0.92, 1.1},
		{"pieces off", 11, 9, 0, 0.015, 0.3, 40, 0.25, 0.92, 1.1},
		{"few strings, off", 4, 5, 0.03, 0.005, 0.2, 100, 0.4, 0.90, 1.8}, // Student's distribution has long tails
	} {
		rng := rand.New(rand.NewPCG(77, uint64(c.across)))
		var line, edge, mark, trueLine, trueEdge, n, inside, squares, segments float64
		for range c.photos {
			g := tilted(rng, 35*rng.Float64())
			g.across, g.down, g.offCm, g.edgeCm, g.noisePx = c.across, c.down, c.offCm, c.edgeCm, c.noise
			marks := g.marks(rng)
			p, err := FitGrid(gridRef(t, exactly), g.camera, marks)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			f := fitting{camera: g.camera, marks: marks, uK1: uK1, alike: 1}
			for _, m := range f.misfits(planeState(p)) {
				f.weight = append(f.weight, max(0, math.Copysign(1, max(trimPx, trimSigma*p.RMSPx)-m)))
			}
			inverse, d, ok := f.inverse(planeState(p), p.RMSPx)
			if !ok {
				t.Fatal("no inverse")
			}
			lines, edges, marksUsed, sum, pxPerCm := f.pieces(planeState(p))
			found := splitOf(unscaled(inverse, d), lines, edges, marksUsed, sum)
			line, edge, mark, n = line+found.line, edge+found.edge, mark+found.mark, n+1
			trueLine += pxPerCm * pxPerCm * c.offCm * c.offCm / 3
			trueEdge += pxPerCm * pxPerCm * c.edgeCm * c.edgeCm
			level, _ := p.At(0)
			for range 20 {
				w, h := g.pitch*float64(c.across-1), g.pitch*float64(c.down-1)
				u := [4]float64{w * rng.Float64(), h * rng.Float64(), w * rng.Float64(), h * rng.Float64()}
				truth := math.Hypot(u[2]-u[0], u[3]-u[1])
				a, _ := g.see(u[0], u[1])
				b, _ := g.see(u[2], u[3])
				q, err := level.LengthCm(a, b)
				if err != nil || truth < 10 {
					continue
				}
				off := (q.Value - truth) / (q.U / 2)
				squares, segments = squares+off*off, segments+1
				if math.Abs(off) <= 2 {
					inside++
				}
			}
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > c.uncertain*want+0.1*c.noise*c.noise {
				t.Errorf("%s: variance of %s %.4f px^2, want %.4f", c.name, what, got/n, want/n)
			}
		}
		near("lines", line/n, trueLine/n)
		near("edges", edge/n, trueEdge/n)
		near("marks", mark/n, c.noise*c.noise)
		errorOverU := math.Sqrt(squares / segments)
		t.Logf("%s: %.0f %% of %.0f lengths within U, error over u %.2f", c.name, 100*inside/segments, segments, errorOverU)
		if inside < c.leastInside*segments || inside > 0.995*segments || errorOverU < 0.75 || errorOverU > c.mostOverU {
			t.Errorf("%s: %.1f %% of %.0f lengths within U, error over u %.2f; want %.0f to 99.5 %% and 0.75 to %.2f", c.name, 100*inside/segments, segments, errorOverU, 100*c.leastInside, c.mostOverU)
		}
	}
}

// Student's distribution holds 95.45 % within these multiples of the standard
// deviation (JCGM 100:2008, table G.2, column 95.45 %).
func TestStudent(t *testing.T) {
	for freedom, want := range map[float64]float64{3: 3.31, 4: 2.87, 5: 2.65, 8: 2.37, 12: 2.23, 20: 2.13, 50: 2.05, 1e6: 2.00} {
		if got := 2 * student(freedom); math.Abs(got-want) > 0.01+0.3/freedom/freedom {
			t.Errorf("%g degrees of freedom: %.3f, want %.2f", freedom, got, want)
		}
	}
}

func planeState(p *Plane) (s state) { return Level{plane: p}.state() }
