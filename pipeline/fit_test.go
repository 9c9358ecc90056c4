package pipeline

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// seen is a reference seen square from distanceCm.
func seen(kind calibrate.Kind, distanceCm float64) calibrate.Sighting {
	return calibrate.Sighting{Reference: calibrate.Reference{Kind: kind, PitchCm: 10, SquaresAcross: 7, SquaresDown: 5, SquareCm: 2}, Plane: &calibrate.Plane{
		Camera:     calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26},
		Homography: [9]float64{1 / distanceCm, 0, 0, 0, 1 / distanceCm, 0, 0, 0, 1},
		Corners:    [4][2]float64{{0, 0}, {20, 0}, {20, 16}, {0, 16}},
	}}
}

// TestLevels: two levels stand, half a pitch against the other's size
// leaves neither, and a third that agrees with one of them stands.
func TestLevels(t *testing.T) {
	two := []calibrate.Sighting{seen(calibrate.KindGrid, 120), seen(calibrate.KindChecker, 130)}
	_ = levels(two)
	for _, s := range two {
		if s.Plane == nil {
			t.Errorf("%s at its own level was refused: %v", s.Reference, s.Refused)
		}
	}
	halved := []calibrate.Sighting{seen(calibrate.KindGrid, 260), seen(calibrate.KindChecker, 130)}
	_ = levels(halved)
	for _, s := range halved {
		if s.Plane != nil || s.Refused == nil {
			t.Fatalf("%s stands beside what contradicts it", s.Reference)
		}
		for _, name := range []string{"grid 10cm", "checker 7x5/2cm"} {
			if !strings.Contains(s.Refused.Reason, name) {
				t.Errorf("the reason does not name %s: %s", name, s.Refused.Reason)
			}
		}
	}
	blind := []calibrate.Sighting{seen(calibrate.KindGrid, 260), seen(calibrate.KindChecker, 130)}
	for i := range blind {
		blind[i].Plane.Camera.Focal35Mm = 0
	}
	_ = levels(blind)
	if blind[0].Plane == nil || blind[1].Plane == nil {
		t.Error("without a focal length nothing can be told, but something was refused")
	}
}
