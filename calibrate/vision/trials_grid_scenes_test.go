//go:build cgo && trials

package vision

import (
	"math/rand/v2"

	"fieldjacket/calibrate/scene"
)

// stringColours are what crews tie with, and the dark ones.
var stringColours = []scene.Colour{{0.78, 0.77, 0.73}, {0.75, 0.62, 0.08}, {0.80, 0.28, 0.04}, {0.80, 0.25, 0.45}, {0.55, 0.05, 0.04},
	{0.05, 0.14, 0.45}, {0.06, 0.30, 0.10}, {0.12, 0.08, 0.05}, {0.03, 0.03, 0.03}}

// stringScene is a framed grid of ten by ten cells over rough ground, from as far as shows the most of it.
func stringScene(rng *rand.Rand, pitchCm float64) scene.Scene {
	light := 0.5 + 0.8*rng.Float64()
	g := scene.Grid{PitchCm: pitchCm, Across: 10, Down: 10,
		Pose:   scene.Pose{ZCm: 2 + 5*rng.Float64(), TurnDeg: 360 * rng.Float64()},
		String: scene.String{ThickCm: (0.012 + 0.014*rng.Float64()) * pitchCm, Colour: stringColours[rng.IntN(5)], Twist: rng.Float64()},
		Timber: &scene.Timber{WideCm: 0.4 * pitchCm, ThickCm: 2, GapCm: 0.4 * rng.Float64()}}
	return scene.Scene{
		Seed: rng.Uint64(),
		Ground: scene.Ground{Rock: scene.Colour{0.34 * light, 0.27 * light, 0.21 * light}, RoughCm: 0.5 + 2*rng.Float64(), JointCm: 12 + 25*rng.Float64(),
			OpenCm: rng.Float64(), PebblesPerM2: 300 * rng.Float64(), ChipsPerM2: 400 * rng.Float64(), Dust: rng.Float64()},
		Bones: []scene.Bone{{Kind: scene.LongBone, XCm: 20 * (rng.Float64() - 0.5), YCm: 20 * (rng.Float64() - 0.5), TurnDeg: 360 * rng.Float64(),
			LengthCm: 4 * pitchCm, ThickCm: 0.5 * pitchCm, Weathering: rng.Float64()}},
		Light: scene.Light{SunFromDeg: 360 * rng.Float64(), SunHighDeg: 30 + 40*rng.Float64()},
		Camera: scene.Camera{WidthPx: 2048, HeightPx: 1536, Focal35Mm: 24.2 + 5*rng.Float64(), K1: 0.06*rng.Float64() - 0.04, AimZCm: 5,
			DistanceCm: (9 + 5*rng.Float64()) * pitchCm, TiltDeg: 30 * rng.Float64(), HeadingDeg: 360 * rng.Float64(), RollDeg: 20 * rng.Float64()},
		Grids: []scene.Grid{g},
	}
}

// A gridTrial is one kind of photo that a grid's finder is tried on.
type gridTrial struct {
	name    string
	pitchCm float64
	exact   bool // the reference is exact: asked with no tolerance
	refuse  bool // there is nothing to scale by
	change  func(s *scene.Scene, rng *rand.Rand)
}

var gridTrials = []gridTrial{
	{"string10", 10, true, false, func(*scene.Scene, *rand.Rand) {}},
	{"string5", 5, true, false, func(*scene.Scene, *rand.Rand) {}},
	{"stringpart", 10, true, false, func(s *scene.Scene, _ *rand.Rand) { s.Camera.DistanceCm *= 0.5 }},
	{"stringhard", 10, false, false, func(s *scene.Scene, rng *rand.Rand) {
		g := &s.Grids[0]
		g.OffMarksCm, g.OverCm = 0.1, 0.2
		g.String = scene.String{ThickCm: g.String.ThickCm, Colour: stringColours[rng.IntN(len(stringColours))], SagCm: 0.3, BowCm: 0.1, Slack: 0.1, Knots: 0.4, Tails: 0.2, Twist: 1}
		g.Missing = [2][]int{{2 + rng.IntN(8)}, {2 + rng.IntN(8)}}
		s.Camera.TiltDeg *= 1.5
		s.Light.Cloud = 0.8 * rng.Float64()
		s.Film.ExposureEV = 2.4*rng.Float64() - 1.2
		s.Handles = []scene.Handle{{XCm: 10, YCm: -10, ZCm: g.ZCm + 2, TurnDeg: 360 * rng.Float64(), LengthCm: 80, ThickCm: 3}}
		s.Lumps = []scene.Lump{{XCm: -20, YCm: 15, LengthCm: 25, WidthCm: 18, HighCm: 12, Colour: s.Ground.Rock}}
		s.Ground.Seams = []scene.Seam{{BearingDeg: 360 * rng.Float64(), EveryCm: 30, Uneven: 1, WideCm: 0.5, DeepCm: 0.6}}
	}},
	{"stringracked", 10, false, false, func(s *scene.Scene, rng *rand.Rand) {
		s.Grids[0].RackDeg, s.Grids[0].OffMarksCm = 4*rng.Float64()-2, 0.1
	}},
	{"nothing", 10, false, true, func(s *scene.Scene, _ *rand.Rand) { s.Grids = nil }},
	{"joints", 10, false, true, func(s *scene.Scene, rng *rand.Rand) {
		s.Grids = nil
		at := 360 * rng.Float64()
		s.Ground.Seams = []scene.Seam{{BearingDeg: at, EveryCm: 10, Uneven: 0.3, WideCm: 0.3, DeepCm: 0.4},
			{BearingDeg: at + 90, EveryCm: 10, Uneven: 0.3, WideCm: 0.3, Colour: scene.Colour{0.7, 0.68, 0.62}}}
	}},
	{"tools", 10, false, true, func(s *scene.Scene, rng *rand.Rand) {
		s.Grids = nil
		for i := range 6 {
			s.Handles = append(s.Handles, scene.Handle{XCm: 15 * float64(i-3), TurnDeg: 90, LengthCm: 60, ThickCm: 2})
		}
		s.Tapes = []scene.Tape{{Pose: scene.Pose{ZCm: 4, TurnDeg: 360 * rng.Float64()}, LengthCm: 90, WideCm: 1.6}}
	}},
	{"shadows only", 10, false, true, func(s *scene.Scene, _ *rand.Rand) { s.Grids[0].ShadowOnly = true }},
	{"one family missing", 10, false, true, func(s *scene.Scene, rng *rand.Rand) {
		s.Grids[0].Missing[rng.IntN(2)] = []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
		s.Grids[0].Timber = nil
	}},
	{"every 2nd of one family missing", 10, false, true, func(s *scene.Scene, rng *rand.Rand) { s.Grids[0].Missing[rng.IntN(2)] = []int{1, 3, 5, 7, 9} }},
	{"bar", 10, false, true, func(s *scene.Scene, rng *rand.Rand) {
		s.Grids = nil
		s.Bars = []scene.Bar{{Pose: scene.Pose{ZCm: 3, TurnDeg: 360 * rng.Float64()}, LengthCm: 20, BlockCm: 2, HighCm: 1, Rows: 2, OutlineCm: 0.1, MarginCm: 1, ThickCm: 0.3}}
		s.Camera.DistanceCm = 45
	}},
	{"board", 10, false, true, func(s *scene.Scene, rng *rand.Rand) {
		s.Grids = nil
		s.Checkers = []scene.Checker{{Pose: scene.Pose{ZCm: 3, TurnDeg: 360 * rng.Float64()}, Across: 9, Down: 7, SquareCm: 4, MarginCm: 1, ThickCm: 0.3}}
		s.Camera.DistanceCm = 60
	}},
}
