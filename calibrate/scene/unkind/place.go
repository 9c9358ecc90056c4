package unkind

import "fieldjacket/calibrate/scene"

// ground draws what lies under the frame, from bare sand to blocks.
func (d *draw) ground() {
	light := d.from(0.6, 1.3)
	rocks := []scene.Colour{{0.05, 0.047, 0.045}, {0.33, 0.22, 0.16}, {0.52, 0.47, 0.38}, {0.30, 0.29, 0.27}, {0.22, 0.19, 0.15}, {0.38, 0.30, 0.22}}
	rock := rocks[d.IntN(len(rocks))]
	for k := range rock {
		rock[k] *= light
	}
	d.s.Ground = scene.Ground{Rock: rock, RoughCm: d.from(0.5, 3), PebblesPerM2: d.from(0, 500), ChipsPerM2: d.from(0, 600), Dust: d.from(0, 0.7)}
	if d.often(0.6) {
		d.s.Ground.JointCm, d.s.Ground.OpenCm = d.from(8, 45), d.from(0, 1.5)
	}
	if d.often(0.3) {
		d.s.Ground.ShellsPerM2 = d.from(0, 50)
	}
	if d.often(0.3) {
		d.s.Ground.Flecks = d.from(0, 0.5)
	}
	if d.often(0.15) {
		d.s.Ground.Water, d.s.Ground.WaterCm = true, -d.s.Ground.RoughCm*d.from(0.3, 0.8)
	}
	d.s.Far = &scene.Far{HillsDeg: max(0, d.from(-4, 6)), Water: d.often(0.2), HazeCm: d.from(2e4, 3e5)}
}

// light draws the sun and the sky.
func (d *draw) light() {
	d.s.Light = scene.Light{SunFromDeg: d.from(0, 360), SunHighDeg: d.from(22, 75), Cloud: max(0, d.from(-1, 1))}
	if d.often(0.25) { // someone who stands beside it throws a shadow in
		x, y := d.from(-40, 40), d.from(-40, 40)
		d.s.Light.Shades = []scene.Shade{{Pose: scene.Pose{XCm: x, YCm: y, ZCm: 60, TurnDeg: d.from(0, 360)}, WidthCm: d.from(25, 50), LengthCm: d.from(60, 170)}}
	}
}

// film draws what the phone makes of it.
func (d *draw) film() {
	d.s.Film = scene.Film{ExposureEV: 0.5 * d.NormFloat64(), BlurPx: d.from(0.5, 1.1), Noise: d.from(1, 4), Sharpen: d.from(0, 1.2), Flare: max(0, d.from(-0.1, 0.15)),
		Phone: scene.Phone{Smooth: max(0, d.from(-4, 14)), Halo: max(0, d.from(-0.5, 1)), Crisp: d.from(0, 1.2)}}
}
