package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate/scene"
)

// TestBarUnderStrings: a bar on the bone's level and strings above it in one photo are both scaled, and the depth between
// them is the truth's.
func TestBarUnderStrings(t *testing.T) {
	photo := filepath.Join(t.TempDir(), "IMG_0001.JPG")
	truth := shoot(t, photo, scene.Scene{
		Seed:   12,
		Ground: scene.Ground{RoughCm: 1},
		Light:  scene.Light{SunFromDeg: 320, SunHighDeg: 58},
		Camera: scene.Camera{WidthPx: 2304, HeightPx: 1728, Focal35Mm: 26.2, DistanceCm: 105, TiltDeg: 14, HeadingDeg: 25},
		Grids: []scene.Grid{{Pose: scene.Pose{ZCm: 13, TurnDeg: 20}, PitchCm: 10, Across: 7, Down: 6,
			String: scene.String{ThickCm: 0.2}, Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 0.3}}},
		Bars: []scene.Bar{{Pose: scene.Pose{XCm: 3, YCm: 4, ZCm: 3, TurnDeg: 65}, LengthCm: 20, BlockCm: 2, HighCm: 2, Rows: 2, MarginCm: 0.5, ThickCm: 0.3}},
	})
	depth := math.Abs(truth.Planes[0].DistanceCm() - truth.Planes[1].DistanceCm())
	code, out := fieldjacket("scale", "--json", "--grid", "10cm", "--bar", "20cm/2cm", photo)
	var got leveled
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitDone || len(got.Levels) != 1 {
		t.Fatalf("exit %d, %v: %s", code, err, out)
	}
	q := got.Levels[0].DepthCm
	t.Logf("%s behind %s by %s cm, true %.2f", got.Levels[0].Of, got.Levels[0].Behind, q, depth)
	if got.Levels[0].Of != "bar 20cm/2cm" || !(math.Abs(q.Value-depth) <= q.U) || q.U > 6 {
		t.Errorf("%s behind %s by %s cm, want the bar, %.2f cm within U, and U at most 6", got.Levels[0].Of, got.Levels[0].Behind, q, depth)
	}
}
