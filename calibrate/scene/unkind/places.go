package unkind

import (
	"math/rand/v2"

	"fieldjacket/calibrate/scene"
)

// Places draws one frame over strong relief with a bone in it, laid down once and photographed from three places: from above,
// and from a step aside and lower, 90 degrees apart. Sun, ground and frame are the same in all three.
func Places(seed uint64, widthPx int) (out [3]scene.Scene) {
	d := &draw{Rand: rand.New(rand.NewPCG(seed, 0x706c61636573))}
	d.s = scene.Scene{Seed: d.Uint64(), Camera: scene.Camera{WidthPx: widthPx, HeightPx: widthPx * 3 / 4}}
	d.ground()
	g := &d.s.Ground
	g.RoughCm, g.JointCm, g.OpenCm, g.Water = d.from(2, 5), d.from(12, 40), d.from(0.3, 1.5), false
	d.light()
	d.s.Light.Cloud = max(0, d.from(-1, 0.6))
	f := d.frame()
	f.ZCm, f.LeanDeg = 3+1.3*g.RoughCm+d.from(0, 4), d.from(0, 3)
	d.s.Grids = []scene.Grid{f}
	d.s.Bones = []scene.Bone{{Kind: scene.BoneKind(d.IntN(2)), XCm: d.from(-12, 12), YCm: d.from(-12, 12), ZCm: d.from(-0.5, 2), TurnDeg: d.from(0, 360),
		LengthCm: d.from(20, 45), ThickCm: d.from(3, 7), Bend: d.from(0, 0.12), Weathering: d.Float64()}}
	d.shoot(d.from(0, 8), d.from(0.5, 0.6))
	d.film()
	c := &d.s.Camera
	c.AimXCm, c.AimYCm = 0, 0
	out[0] = d.s
	heading := d.from(0, 360)
	for n := 1; n < len(out); n++ {
		out[n] = d.s
		c := &out[n].Camera
		c.HeadingDeg, c.TiltDeg, c.RollDeg = heading+90*float64(n-1), d.from(22, 40), 3*d.NormFloat64()
		c.DistanceCm *= d.from(1, 1.25)
	}
	return out
}
