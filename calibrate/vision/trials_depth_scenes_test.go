//go:build cgo && trials

package vision

import (
	"math"
	"math/rand/v2"

	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/unkind"
)

// A layingKind is one sort of a frame laid over ground with a bone in it, photographed from three places.
type layingKind struct {
	name   string
	change func(d *layingDraw)
}

// layingDraw is a laying in the making.
type layingDraw struct {
	*rand.Rand
	s        scene.Scene
	tilt     [3]float64 // of the cameras; the first looks down from above
	deepCm   float64    // of the ground's mean below the strings
	baseline float64    // cm
	unkind   bool       // strings as the world gives them
}

func (d *layingDraw) from(low, high float64) float64 { return low + (high-low)*d.Float64() }

var layingKinds = []layingKind{
	{"rock, to 10 cm", func(d *layingDraw) { d.rock() }},
	{"rock, 10 to 20 cm", func(d *layingDraw) { d.rock(); d.deepCm = d.from(13, 20) }},
	{"sand, to 10 cm", func(d *layingDraw) { d.sand() }},
	{"sand, 10 to 20 cm", func(d *layingDraw) { d.sand(); d.deepCm = d.from(13, 20) }},
	{"mud, overcast", func(d *layingDraw) {
		d.s.Ground = scene.Ground{Rock: scene.Colour{0.13, 0.10, 0.075}, RoughCm: d.from(0.8, 2)}
		d.s.Light.Cloud = 0.95
	}},
	{"smooth bone on sand", func(d *layingDraw) {
		d.sand()
		d.s.Bones[0].Weathering, d.s.Bones[0].Colour = 0, scene.Colour{0.45, 0.40, 0.32}
	}},
	{"slope of 20 to 30 degrees, rock", func(d *layingDraw) {
		d.rock()
		d.s.Grids[0].LeanDeg, d.s.Grids[0].LeanToDeg = d.from(20, 30), d.from(0, 360)
		d.deepCm = 4 + 52*math.Tan(d.s.Grids[0].LeanDeg*math.Pi/180)
	}},
	{"all tilted 20 to 30 degrees, rock", func(d *layingDraw) { d.rock(); d.tilt = [3]float64{d.from(20, 30), d.from(20, 30), d.from(20, 30)} }},
	{"uneven strings", func(d *layingDraw) { d.unkind = true }},
}

func (d *layingDraw) rock() {
	d.s.Ground = scene.Ground{Rock: scene.Colour{0.33, 0.24, 0.18}, RoughCm: d.from(1, 2.5), JointCm: d.from(12, 40), OpenCm: d.from(0.2, 1), PebblesPerM2: d.from(0, 200), ChipsPerM2: d.from(50, 400)}
}

func (d *layingDraw) sand() {
	d.s.Ground = scene.Ground{Rock: scene.Colour{0.50, 0.44, 0.34}, RoughCm: d.from(0.5, 1.5), PebblesPerM2: d.from(0, 60), ChipsPerM2: d.from(0, 60), Flecks: d.from(0.1, 0.4)}
}

// laying draws the three scenes of a seed.
func (k layingKind) laying(seed uint64, widthPx int) [3]scene.Scene {
	d := &layingDraw{Rand: rand.New(rand.NewPCG(seed, 0x6c6179696e67)), deepCm: -1}
	d.s = scene.Scene{Seed: d.Uint64(), Camera: scene.Camera{WidthPx: widthPx, HeightPx: widthPx * 3 / 4, Focal35Mm: d.from(24, 28), K1: d.from(-0.02, 0.02)}}
	d.s.Light = scene.Light{SunFromDeg: d.from(0, 360), SunHighDeg: d.from(35, 70), Cloud: max(0, d.from(-0.5, 0.6))}
	d.s.Grids = []scene.Grid{{
		Pose: scene.Pose{TurnDeg: d.from(0, 360)}, PitchCm: 10, Across: 10, Down: 10, OffMarksCm: 0.1, RackDeg: 0.2 * d.NormFloat64(),
		String: scene.String{ThickCm: d.from(0.18, 0.3), SagCm: d.from(0, 0.1), BowCm: 0.05, Twist: d.Float64()}, OverCm: 0.15,
		Tube: &scene.Tube{ThickCm: d.from(2, 3), GapCm: d.from(1, 4), Elbow: 1.2},
	}}
	d.s.Bones = []scene.Bone{{Kind: scene.LongBone, XCm: d.from(-12, 12), YCm: d.from(-12, 12), ZCm: d.from(-0.5, 1.5), TurnDeg: d.from(0, 360), LengthCm: d.from(30, 45), ThickCm: d.from(4, 7), Weathering: d.Float64()}}
	d.tilt = [3]float64{d.from(0, 6), 0, 0}
	k.change(d)
	if d.unkind {
		return unkind.Places(seed, widthPx)
	}
	if d.deepCm < 0 {
		d.deepCm = d.from(5, 8.5)
	}
	g := &d.s.Grids[0]
	g.ZCm = d.deepCm
	c := &d.s.Camera
	c.AimZCm = g.ZCm
	high := 100 / d.from(0.58, 0.66) * c.FocalPx() / float64(c.WidthPx) // of the first over the strings
	c.DistanceCm, c.TiltDeg, c.HeadingDeg, c.RollDeg = high, d.tilt[0], d.from(0, 360), 90*float64(d.IntN(4))+3*d.NormFloat64()
	var out [3]scene.Scene
	out[0] = d.s
	heading := d.from(0, 360)
	for n := 1; n < len(out); n++ {
		out[n] = d.s
		c := &out[n].Camera
		aside, above := d.from(30, 60), high*d.from(0.75, 0.95)
		c.TiltDeg, c.DistanceCm = math.Atan2(aside, above)*180/math.Pi, math.Hypot(aside, above)
		if d.tilt[n] > 0 {
			c.TiltDeg, c.DistanceCm = d.tilt[n], high
		}
		c.HeadingDeg, c.RollDeg = heading+90*float64(n-1), 3*d.NormFloat64()
		out[n].Film.ExposureEV = 0.3 * d.NormFloat64()
		out[n].Film.Noise = 2.5
	}
	out[0].Film.Noise = 2.5
	return out
}

// slid moves the frame between two photos: at least 5 mm, or half a degree.
func slid(s scene.Scene, rng *rand.Rand) (scene.Scene, string) {
	s.Grids = append([]scene.Grid(nil), s.Grids...)
	g := &s.Grids[0]
	if rng.IntN(3) == 0 {
		deg := (0.5 + 0.7*rng.Float64()) * float64(1-2*rng.IntN(2))
		g.TurnDeg += deg
		return s, "turned"
	}
	to, far := 2*math.Pi*rng.Float64(), 0.5+1.0*rng.Float64()
	g.XCm, g.YCm = g.XCm+far*math.Cos(to), g.YCm+far*math.Sin(to)
	return s, "slid"
}
