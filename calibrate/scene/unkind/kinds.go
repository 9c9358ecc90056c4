package unkind

import (
	"math"

	"fieldjacket/calibrate/scene"
)

// people lets some stand and kneel about the frame, not over it.
func (d *draw) people() {
	half := 0.75*PitchCm*float64(d.s.Grids[0].Across) + 30
	for range 1 + d.IntN(3) {
		if x, y := d.beside(half, half+260); !d.hides(x, y) {
			d.person(x, y)
		}
	}
}

// hides tells whether someone at a place would stand between the camera and the frame, or in the lens.
func (d *draw) hides(x, y float64) bool {
	c := d.s.Camera
	sin, cos := math.Sincos(c.HeadingDeg * math.Pi / 180)
	back := c.DistanceCm * math.Sin(c.TiltDeg*math.Pi/180)
	ex, ey := c.AimXCm-back*sin, c.AimYCm-back*cos
	if math.Hypot(x-ex, y-ey) < 60 {
		return true
	}
	ahead, aside := (x-ex)*sin+(y-ey)*cos, (x-ex)*cos-(y-ey)*sin
	gx, gy := d.s.Grids[0].XCm-ex, d.s.Grids[0].YCm-ey
	deep, side := gx*sin+gy*cos, gx*cos-gy*sin
	return ahead > -30 && ahead < deep && math.Abs(aside/max(ahead, 1)-side/deep) < (0.75*PitchCm*float64(d.s.Grids[0].Across))/deep+40/max(ahead, 1)
}

// hands reach over the frame.
func (d *draw) hands() {
	g := d.s.Grids[0]
	half := 0.35 * PitchCm * float64(g.Across)
	for range 1 + d.IntN(2) {
		d.hand(d.from(-half, half), d.from(-half, half), g.ZCm+d.from(0.5, 3))
	}
	if d.often(0.5) {
		d.s.Handles = append(d.s.Handles, scene.Handle{XCm: d.from(-half, half), YCm: d.from(-half, half), ZCm: g.ZCm + 2.5, TurnDeg: d.from(0, 360), LengthCm: d.from(20, 80), ThickCm: d.from(1, 3.5)})
	}
}

// meadow lets grass grow through the frame and beside it.
func (d *draw) meadow() {
	half := 0.5 * PitchCm * float64(d.s.Grids[0].Across)
	for range 2 + d.IntN(6) {
		d.grass(d.from(-1.5*half, 1.5*half), d.from(-1.5*half, 1.5*half), d.from(8, 0.7*half), 40+d.IntN(160))
	}
}

// second lays another frame close beside the first.
func (d *draw) second() {
	a := d.s.Grids[0]
	b := d.frame()
	b.Pose, b.PitchCm = a.Pose, a.PitchCm
	b.Tube, b.Timber = a.Tube, a.Timber
	b.Across, b.Down = a.Across, a.Down
	b.TurnDeg += 2 * d.NormFloat64()
	b.LeanDeg, b.LeanToDeg = d.from(0, 5), d.from(0, 360)
	rim := 0.0
	if t := a.Tube; t != nil {
		rim = 2*t.GapCm + 2*t.ThickCm
	} else {
		rim = 2*a.Timber.GapCm + 2*a.Timber.WideCm
	}
	step := PitchCm*float64(a.Across) + rim + d.from(0.5, 6)
	sin, cos := math.Sincos(a.TurnDeg * math.Pi / 180)
	b.XCm, b.YCm = a.XCm+step*cos, a.YCm-step*sin
	d.s.Grids = append(d.s.Grids, b)
	c := &d.s.Camera
	c.AimXCm, c.AimYCm, c.DistanceCm = c.AimXCm+step*cos/2, c.AimYCm-step*sin/2, 1.25*c.DistanceCm
	d.s.Far.ReachCm += step
}

// mussels is near-black rock with pale flecks, shells and pools, and thin pale cord.
func (d *draw) mussels() {
	g := &d.s.Ground
	g.Rock = scene.Colour{0.045, 0.043, 0.045}
	g.Flecks, g.ShellsPerM2, g.Dust = d.from(0.3, 1), d.from(0, 60), 0
	if d.often(0.6) {
		g.Water, g.WaterCm = true, -g.RoughCm*d.from(0.3, 1)
	}
	d.s.Grids[0].String.ThickCm = d.from(0.15, 0.25)
	d.s.Film.ExposureEV = d.from(-1.8, -0.4)
}

// glare is a low sun under which parts are burnt out and others in deep shade, and a phone that evens it out.
func (d *draw) glare() {
	d.s.Light.Cloud, d.s.Light.SunHighDeg = 0, d.from(18, 40)
	d.s.Light.Sky = scene.Colour{0.10, 0.13, 0.18}
	x, y := d.beside(0, 50)
	d.s.Light.Shades = []scene.Shade{{Pose: scene.Pose{XCm: x, YCm: y, ZCm: 60, TurnDeg: d.from(0, 360)}, WidthCm: d.from(30, 60), LengthCm: d.from(60, 200)}}
	d.s.Film.ExposureEV, d.s.Film.Flare = d.from(0.3, 1.3), d.from(0, 0.3)
	d.s.Film.Phone.Halo = d.from(0.4, 1)
}

// bones lie under the frame.
func (d *draw) bones() {
	for range d.IntN(3) {
		d.s.Bones = append(d.s.Bones, scene.Bone{Kind: scene.BoneKind(d.IntN(4)), XCm: d.from(-20, 20), YCm: d.from(-20, 20), ZCm: d.from(-1, 1), TurnDeg: d.from(0, 360),
			LengthCm: d.from(8, 45), ThickCm: d.from(2, 6), Bend: d.from(0, 0.15), Weathering: d.Float64()})
	}
}
