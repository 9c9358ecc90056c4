package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/truth"
)

// TestCroppedPlates show all that they are to show with its margin, however they are turned, and nothing beyond the photo; without
// that, the ground that was seen at least half as fine as the reference, and little else of a steep view.
func TestCroppedPlates(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 3))
	for range 60 {
		tilt := 60 * rng.Float64()
		l := truth.LayDown(t, 360*rng.Float64(), scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 250, TiltDeg: tilt, HeadingDeg: 360 * rng.Float64(), RollDeg: 80*rng.Float64() - 40}, rng.IntN(8))
		turn := 360*rng.Float64() - 180
		lay := func(w Want) figure.Lay {
			p, ok := Scaled(l.Plane, w)
			if !ok {
				t.Fatal("no plate")
			}
			return figure.Lay{Picture: p}
		}
		tight, wide := lay(Want{TurnDeg: turn, Show: l.Plane.Corners[:]}), lay(Want{TurnDeg: turn, Show: l.Plane.Corners[:], Margin: 0.125})
		cm := func(l figure.Lay) (w, h float64) {
			return float64(l.Picture.WidthPx) / l.Picture.PxPerCm, float64(l.Picture.HeightPx) / l.Picture.PxPerCm
		}
		w0, h0 := cm(tight)
		w1, h1 := cm(wide)
		margin := 2 * 0.125 * max(w0, h0)
		if w1 > w0+margin+0.5 || h1 > h0+margin+0.5 || tilt < 20 && (w1 < w0+margin-0.5 || h1 < h0+margin-0.5) {
			t.Errorf("tilt %.0f, turned %.0f°: %.1f x %.1f cm with its margin, %.1f x %.1f without: want %.1f more", tilt, turn, w1, h1, w0, h0, margin)
		}
		for _, c := range l.Plane.Corners {
			if x, y := wide.OfPlane(c[0], c[1]); !wide.Inside(x, y) {
				t.Errorf("turned %.0f°: the measured area runs out of the plate, to (%.0f, %.0f)", turn, x, y)
			}
		}
		// Upright on the photo is turnDeg on the plate.
		upright, _ := Upright(l.Plane)
		u0, v0 := upright.Source(0, 0)
		u1, v1 := upright.Source(0, -1)
		x0, y0 := wide.OfPlane(u0, v0)
		x1, y1 := wide.OfPlane(u1, v1)
		if got := math.Atan2(x1-x0, y0-y1) * 180 / math.Pi; math.Abs(math.Remainder(got-turn, 360)) > 1e-6 {
			t.Errorf("turned by %.3f°, want %.3f°", got, turn)
		}
		near, whole := lay(Want{TurnDeg: turn}), lay(Want{TurnDeg: turn, Whole: true})
		wn, hn := cm(near)
		ww, hw := cm(whole)
		if wn > ww+1 || hn > hw+1 || tilt > 55 && wn*hn > 0.7*ww*hw {
			t.Errorf("tilt %.0f: %.0f x %.0f cm without the far ground, %.0f x %.0f with it", tilt, wn, hn, ww, hw)
		}
		mu, mv := l.Plane.MiddleCm()
		level, _ := l.Plane.At(0)
		middle := fineness(level, mu, mv)
		for range 50 {
			at := calibrate.Point{XPx: 3999 * rng.Float64(), YPx: 2999 * rng.Float64()}
			u, v, err := level.Cm(at)
			if err != nil || fineness(level, u, v) < 0.55*middle {
				continue
			}
			const edge = 0.03 // of the plate: the extent is taken at every 48th of the photo
			if x, y := near.OfPlane(u, v); x < -edge*float64(near.Picture.WidthPx) || y < -edge*float64(near.Picture.HeightPx) ||
				x > (1+edge)*float64(near.Picture.WidthPx) || y > (1+edge)*float64(near.Picture.HeightPx) {
				t.Errorf("tilt %.0f: ground seen %.2f times as fine as the reference is left out", tilt, fineness(level, u, v)/middle)
				break
			}
		}
	}
}
