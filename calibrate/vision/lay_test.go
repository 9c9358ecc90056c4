//go:build cgo

package vision

import (
	"image"
	"image/color"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// TestLayIsHalfStrengthWithinTheMeasuredArea: of an earlier photo, half of its own grey and half of the canvas's shows within what was
// measured, right side up, and nothing outside.
func TestLayIsHalfStrengthWithinTheMeasuredArea(t *testing.T) {
	const w, h = 400, 300
	photo := func(grey func(x, y int) uint8) *Picture {
		m := image.NewRGBA(image.Rect(0, 0, w, h))
		for y := range h {
			for x := range w {
				m.Set(x, y, color.Gray{Y: grey(x, y)})
			}
		}
		return opened(t, m, 0)
	}
	now := photo(func(x, y int) uint8 { return 200 })
	defer now.Close()
	before := photo(func(x, y int) uint8 { // a dark upper left quarter
		if x < w/2 && y < h/2 {
			return 20
		}
		return 120
	})
	defer before.Close()
	plane := &calibrate.Plane{Camera: before.Camera(), Homography: [9]float64{1 / 300.0, 0, 0, 0, 1 / 300.0, 0, 0, 0, 1}, Corners: [4][2]float64{{-100, -50}, {100, -50}, {100, 50}, {-100, 50}}}
	picture := look.Picture{WidthPx: w, HeightPx: h, From: [6]float64{1, 0, -(w - 1) / 2.0, 0, 1, -(h - 1) / 2.0}, Plane: plane}
	at := image.Rect(10, 20, 10+w, 20+h)
	c, err := Rectify(now, look.Picture{WidthPx: w, HeightPx: h, From: [6]float64{1, 0, 0, 0, 1, 0}}, image.Pt(w+20, h+40), at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if err := c.Lay(before, picture, at); err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct {
		x, y, grey int
	}{{150, 120, 110}, {250, 120, 160}, {150, 180, 160}, {80, 150, 200}, {320, 150, 200}, {200, 80, 200}, {200, 220, 200}} {
		if got := int(c.Image.RGBAAt(10+want.x, 20+want.y).R); got < want.grey-4 || got > want.grey+4 {
			t.Errorf("at (%d, %d): %d, want %d", want.x, want.y, got, want.grey)
		}
	}
	if got := c.Image.RGBAAt(5, 5); got != (color.RGBA{R: 255, G: 255, B: 255, A: 255}) {
		t.Errorf("the margin is %v", got)
	}
	if err := c.Lay(before, picture, image.Rect(0, 0, w+1, h)); err == nil {
		t.Error("a picture of another size is taken")
	}
}
