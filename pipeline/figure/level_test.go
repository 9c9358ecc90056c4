package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// Relief displacement of aerial photographs, d = r h/H: a camera H over the base, r the picture's radius of the top. Counted
// from the top's own level, which is what lies between string and bone, r is where the top truly is and H its distance.
// Hicks, Handbook of Civil Engineering Calculations (read second-hand): 2269 m, 71.68 and 76.61 mm give 146 m; a textbook
// exercise: H 1000 m, r 10 cm, d 7.2 mm give 72 m.
func TestRelief(t *testing.T) {
	for _, c := range []struct{ highM, topMm, dMm, hM float64 }{{2269, 76.61, 4.93, 146}, {1000, 100, 7.2, 72}} {
		// The base lies c.hM below the level of the top, which is highM - hM away; its picture is too near by d.
		if got := shiftCm(c.highM-c.hM, c.hM, c.topMm); math.Abs(got-c.dMm) > 0.01 {
			t.Errorf("H %g, r %g, h %g: displaced by %.3f mm, want %.2f", c.highM, c.topMm, c.hM, got, c.dMm)
		}
	}
	// Computed: an object h above the grid's plane, camera 1500 mm over it, reads H/(H-h) - 1 too long.
	p := square(150)
	times := byBar(p, 0)
	for h, want := range map[float64]float64{2: 0.0135, 5: 0.0345, 12: 0.0870} {
		by, ok := times(-h)
		if got := 1/by - 1; !ok || math.Abs(got-want) > 6e-5 {
			t.Errorf("%g cm above: %.4f too long, want %.4f", h, got, want)
		}
	}
	if text := WhatBelow(p); !strings.Contains(text, "5, 10, 20 cm below it reads 3, 6, 12 % short") {
		t.Errorf("below: %q", text)
	}
}

// What lies below the strings is drawn too near to the point below the camera: 20 cm below, 50 cm aside, 150 cm away, by 50 x 20/170.
func TestParallax(t *testing.T) {
	p := square(150)
	for _, c := range []struct {
		bone    *Depth
		squares bool
		want    string
	}{
		{nil, true, "bone, were it 20 cm below the strings, would be drawn out of place, towards the point below the camera: by 5.9 cm where it lies 50 cm from that point. It may show in a neighbour square"},
		{&Depth{Cm: 10}, false, "bone 10 cm below the strings is drawn out of place, towards the point below the camera: by 3.1 cm where it lies 50 cm from that point"},
		{&Depth{Cm: 0}, true, ""}, {&Depth{Cm: -3}, true, ""},
	} {
		if got := Parallax(p, c.bone, "strings", c.squares); got != c.want {
			t.Errorf("%+v: %q, want %q", c.bone, got, c.want)
		}
	}
}

// Depths by square go by the level that the scale bar holds on: what lies there needs nothing, what lies deeper is longer than it reads.
// The camera is 150 cm over the strings: a length d below them spans 1/(150 + d).
func TestDepthsBySquareGoByTheBar(t *testing.T) {
	depths := []register.SquareDepth{{Square: "B3", DepthCm: 6}, {Square: "C4", DepthCm: 4}, {Square: "D7", DepthCm: 11.5}}
	for bar, want := range map[float64]string{
		0: "B3 6 cm (× 1.040); C4 4 cm (× 1.027); D7 11.5 cm (× 1.077)", // 156/150, 154/150, 161.5/150
		6: "B3 6 cm (× 1.000); C4 4 cm (× 0.987); D7 11.5 cm (× 1.035)", // 156/156, 154/156, 161.5/156
	} {
		if got := BySquare(square(150), bar, depths); !strings.HasPrefix(got, want+". ") {
			t.Errorf("a bar %g cm below the strings: %q, want %q", bar, got, want)
		}
	}
	if got := BySquare(square(150), 0, nil); got != "" {
		t.Errorf("no depths: %q", got)
	}
}

// square is a plane seen square from a distance.
func square(distanceCm float64) *calibrate.Plane {
	return &calibrate.Plane{
		Camera:     calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26},
		Homography: [9]float64{1 / distanceCm, 0, 0, 0, 1 / distanceCm, 0, 0, 0, 1},
		Corners:    [4][2]float64{{-50, -50}, {50, -50}, {50, 50}, {-50, 50}},
		URel:       0.001,
	}
}
