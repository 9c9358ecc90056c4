package unkind_test

import (
	"math"
	"testing"

	"fieldjacket/calibrate/scene/unkind"
)

// TestPlacesShowOneGround: the three cameras stand at different places, and each square of the frame is equally deep for all of
// them, to what stones too small for one camera's field add.
func TestPlacesShowOneGround(t *testing.T) {
	places := unkind.Places(5, 1024)
	first := places[0].Truth().Planes[0].Squares(places[0].Relief())
	least, most := math.Inf(1), math.Inf(-1)
	for n, s := range places[1:] {
		if s.Camera.TiltDeg < 20 || s.Camera.HeadingDeg == places[0].Camera.HeadingDeg && n > 0 {
			t.Errorf("place %d: %+v", n+2, s.Camera)
		}
		squares := s.Truth().Planes[0].Squares(s.Relief())
		for i, q := range squares {
			least, most = min(least, q.DepthCm), max(most, q.DepthCm)
			if math.Abs(q.DepthCm-first[i].DepthCm) > 0.15 {
				t.Errorf("place %d: square %d is %.2f cm deep, from the first place %.2f", n+2, i, q.DepthCm, first[i].DepthCm)
			}
		}
	}
	if most-least < 1.5 {
		t.Errorf("squares from %.2f to %.2f cm deep: want relief", least, most)
	}
}
