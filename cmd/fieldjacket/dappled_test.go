package main

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate/scene"
)

// TestColouredStringsInDappledShade: spots of shade dim strings and ground alike, as a shadow of strings would; that the ground
// lacks their colour tells them from one. Their shadow alone scales nothing.
func TestColouredStringsInDappledShade(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	s := fiveCm(9, false)
	s.Ground = scene.Ground{Rock: scene.Colour{0.20, 0.07, 0.04}, RoughCm: 0.4}
	s.Light = scene.Light{SunFromDeg: 320, SunHighDeg: 58, Cloud: 0.1}
	s.Film.ExposureEV = -1
	for range 40 {
		s.Light.Shades = append(s.Light.Shades, scene.Shade{Pose: scene.Pose{XCm: 130 * (rng.Float64() - 0.5), YCm: 130 * (rng.Float64() - 0.5), ZCm: 20 + 15*rng.Float64(), TurnDeg: 360 * rng.Float64()},
			WidthCm: 2 + 4*rng.Float64(), LengthCm: 4 + 10*rng.Float64()})
	}
	g := &s.Grids[0]
	g.ZCm, g.String.ThickCm, g.String.Colour = 1, 0.06, scene.Colour{0.08, 0.55, 0.10}
	photo := filepath.Join(t.TempDir(), "IMG_0001.JPG")
	truth := shoot(t, photo, s)
	code, out := fieldjacket("scale", "--json", "--grid", "5cm", photo)
	var got scaleAnswer
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitDone {
		t.Fatalf("exit %d, %v: %s", code, err, out)
	}
	if want := truth.Planes[0].ScalePxPerCm(0, 0, 0); math.Abs(got.PxPerCm-want) > 0.03*want {
		t.Errorf("%g px/cm, true about %g", got.PxPerCm, want)
	}
	g.ShadowOnly, g.ZCm = true, 5
	shoot(t, photo, s)
	if code, out := fieldjacket("scale", "--grid", "5cm", photo); code != exitPerson {
		t.Errorf("the shadow alone: exit %d: %s", code, out)
	}
}
