//go:build cgo

package vision

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// TestRefineBar: from ends put up to 10 px off, either way round, the marks of
// the bar between them give the scale as the finder's do, also where another
// bar lies beside it; another number of blocks is told, ends elsewhere and bare
// ground are refused.
func TestRefineBar(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	said := calibrate.Reference{Kind: calibrate.KindBar, LengthCm: 10, BlockCm: 1}
	for _, tilt := range []float64{3, 25} {
		s := scene.Scene{
			Seed:   8,
			Ground: scene.Ground{RoughCm: 1, JointCm: 30, PebblesPerM2: 40},
			Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26, DistanceCm: 45, TiltDeg: tilt, HeadingDeg: 40, RollDeg: 15},
			Bars: []scene.Bar{
				{Pose: scene.Pose{XCm: 3, YCm: 4, ZCm: 2, TurnDeg: 20}, LengthCm: 10, BlockCm: 1, HighCm: 1, Rows: 1, MarginCm: 1, ThickCm: 0.2},
				{Pose: scene.Pose{XCm: -6, YCm: -5, ZCm: 2, TurnDeg: 75}, LengthCm: 10, BlockCm: 1, HighCm: 0.5, Rows: 2, MarginCm: 1, ThickCm: 0.2},
			},
		}
		img, truth := s.Render()
		p := opened(t, img, 26)
		for k, plane := range truth.Planes {
			end := func(u float64) calibrate.Point {
				at, ok := plane.Photo(u, 0, 0)
				if !ok {
					t.Fatal("an end lies behind the camera")
				}
				return at
			}
			ends := []calibrate.Point{end(-5), end(5)}
			for n := range 6 {
				off := []float64{2, 5, 10}[n%3]
				put := []calibrate.Point{ends[n%2], ends[1-n%2]}
				for i := range put {
					put[i].XPx += off * (2*rng.Float64() - 1)
					put[i].YPx += off * (2*rng.Float64() - 1)
				}
				found := Refine(p, said, put, off/2)
				if found.Refused != nil {
					t.Errorf("bar %d at %g degrees, ends %g px off: %s", k, tilt, off, found.Refused.Reason)
					continue
				}
				if miss := barMiss(t, p, said, found.Marks, plane); miss > 0.002 {
					t.Errorf("bar %d at %g degrees: %.3f %% off (%s)", k, tilt, 100*miss, found.Counted)
				}
				wrong := said
				wrong.LengthCm = []float64{8, 9, 11, 20}[n%4]
				if found := Refine(p, wrong, put, off/2); !found.Miscounted {
					t.Errorf("bar %d said to be %s: %s %v", k, wrong, found.Counted, found.Refused)
				}
			}
			for name, put := range map[string][]calibrate.Point{
				"half a block off":   {end(-5), end(5.5)},
				"across the bar":     {{XPx: ends[0].XPx, YPx: ends[0].YPx}, {XPx: ends[0].XPx + ends[0].YPx - ends[1].YPx, YPx: ends[0].YPx - ends[0].XPx + ends[1].XPx}},
				"from bar to ground": {end(0), end(10)},
				"on bare ground":     {{XPx: 20, YPx: 30}, {XPx: 500, YPx: 30}},
			} {
				if found := Refine(p, said, put, 2); found.Refused == nil || found.Miscounted {
					t.Errorf("bar %d, ends %s: %s %v", k, name, found.Counted, found.Refused)
				}
			}
		}
		p.Close()
	}
}

// barMiss is how far the scale along a bar is off, as a share.
func barMiss(t *testing.T, p *Picture, ref calibrate.Reference, marks []calibrate.Mark, truth scene.Plane) float64 {
	t.Helper()
	fitted, err := calibrate.FitReference(ref, p.Camera(), marks)
	level, err2 := fitted.At(0)
	a, okA := truth.Photo(-4, 0, 0)
	b, okB := truth.Photo(4, 0, 0)
	length, err3 := level.LengthCm(a, b)
	if err := errors.Join(err, err2, err3); err != nil || !okA || !okB {
		t.Fatal(err, okA, okB)
	}
	return math.Abs(length.Value/8 - 1)
}
