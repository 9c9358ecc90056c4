//go:build cgo

package vision

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate/placard"
)

// placardPhoto is a code seen at a slant, px a module at its middle, on noisy
// ground.
func placardPhoto(t *testing.T, number string, w, h int, px float64) *image.RGBA {
	t.Helper()
	modules, err := placard.Draw(number)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	n := float64(len(modules))
	sin, cos := math.Sincos(0.4)
	for y := range h {
		for x := range w {
			dx, dy := (float64(x)-float64(w)/2)/px, (float64(y)-float64(h)/2)/px
			dx, dy = cos*dx+sin*dy, cos*dy-sin*dx
			f := 1 / (1 - 0.006*dx)
			u, v := 1.15*f*dx+n/2, f*dy+n/2
			level := 110 + 40*math.Sin(float64(x)/30)*math.Cos(float64(y)/17)
			switch {
			case u >= 0 && v >= 0 && u < n && v < n && modules[int(v)][int(u)]:
				level = 35
			case u >= -4 && v >= -4 && u < n+4 && v < n+4:
				level = 215
			}
			g := uint8(min(255, max(0, level+3*rng.NormFloat64())))
			img.SetRGBA(x, y, color.RGBA{g, g, g, 255})
		}
	}
	return img
}

// TestPlacardsAreRead from small, at 4 px a module, to one that fills the
// picture.
func TestPlacardsAreRead(t *testing.T) {
	for _, px := range []float64{4, 6, 10, 24} {
		p := opened(t, placardPhoto(t, "VC 14", 1600, 1200, px), 26)
		codes := Placards(p)
		p.Close()
		if len(codes) != 1 || codes[0].Text != "fieldjacket:jacket:VC 14" {
			t.Errorf("%g px a module: %+v", px, codes)
			continue
		}
		var x, y float64
		for _, c := range codes[0].Corners {
			x, y = x+c.XPx/4, y+c.YPx/4
		}
		if math.Hypot(x-800, y-600) > 2*px {
			t.Errorf("%g px a module: middle of the corners at (%.0f, %.0f)", px, x, y)
		}
	}
}
