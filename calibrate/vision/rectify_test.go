//go:build cgo

package vision

import (
	"image"
	"math"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// TestMapOfASteepPlate: between the places at which plane and lens are worked out the map stays by the true one, in plate pixels,
// on all ground that the photo shows, however the phone was tilted.
func TestMapOfASteepPlate(t *testing.T) {
	const w, h = 4000, 3000
	for _, tilt := range []float64{0, 30, 45, 60} {
		// (u, v) cm about the aim, 130 cm from the lens: x = u, y = v cos, z = 130 - v sin
		sin, cos := math.Sincos(tilt * math.Pi / 180)
		plane := &calibrate.Plane{Camera: calibrate.Camera{WidthPx: w, HeightPx: h, Focal35Mm: 26}, K1: -0.02,
			Homography: [9]float64{1 / 130.0, 0, 0, 0, cos / 130, 0, 0, -sin / 130, 1}, Corners: [4][2]float64{{-20, -20}, {20, -20}, {20, 20}, {-20, 20}}}
		picture := look.Picture{WidthPx: 3000, HeightPx: 3000, From: [6]float64{0.15, 0, -225, 0, 0.15, -400}, Plane: plane, PxPerCm: 1 / 0.15}
		source, err := sourceOf(picture)
		if err != nil {
			t.Fatal(err)
		}
		xs, ys := make([]float32, 3000*3000), make([]float32, 3000*3000)
		fillMaps(xs, ys, image.Pt(3000, 3000), source, 1)
		worst, seen := 0.0, 0
		for y := 1; y < 2999; y += 7 {
			for x := 1; x < 2999; x += 7 {
				at, right := source(float64(x), float64(y)), source(float64(x+1), float64(y))
				if at.XPx < 0 || at.YPx < 0 || at.XPx > w-1 || at.YPx > h-1 {
					continue
				}
				seen++
				i := y*3000 + x
				worst = max(worst, math.Hypot(float64(xs[i])-at.XPx, float64(ys[i])-at.YPx)/math.Hypot(right.XPx-at.XPx, right.YPx-at.YPx))
			}
		}
		if worst > 0.1 || tilt == 0 && worst > 0.01 || seen < 1000 {
			t.Errorf("tilt %g: %.3f plate px off at most, %d places seen", tilt, worst, seen)
		}
	}
}
