package unkind

import (
	"math"

	"fieldjacket/calibrate/scene"
)

// cords are what frames are strung with: white and pale ones first, as most are.
var cords = []scene.Colour{{0.80, 0.79, 0.76}, {0.74, 0.72, 0.66}, {0.60, 0.52, 0.40}, {0.70, 0.55, 0.40}, {0.75, 0.62, 0.10}, {0.80, 0.32, 0.06}}

// frame draws a frame with its strings.
func (d *draw) frame() scene.Grid {
	across := 5 + d.IntN(6)
	down := across
	if d.often(0.2) {
		down = max(4, across-1-d.IntN(3))
	}
	g := scene.Grid{
		Pose:    scene.Pose{ZCm: 1.5 + 1.5*d.s.Ground.RoughCm + d.from(0, 4), TurnDeg: d.from(0, 360), LeanDeg: d.from(0, 5), LeanToDeg: d.from(0, 360)},
		PitchCm: PitchCm, Across: across, Down: down,
		RackDeg: 0.6 * d.NormFloat64(), Stretch: 0.003 * d.NormFloat64(), OffMarksCm: d.from(0.05, 0.4), WarpCm: d.from(-1, 1),
	}
	g.String = scene.String{
		ThickCm: d.from(0.15, 0.5), Colour: cords[min(d.IntN(len(cords)+3), d.IntN(len(cords)))], Weave: d.often(0.75), KinkCm: d.from(0, 0.25),
		SagCm: d.from(0, 1), BowCm: d.from(0, 0.3), Slack: d.from(0, 0.15), Frays: max(0, d.from(-0.5, 1)), Twist: d.Float64(),
	}
	if d.often(0.3) {
		g.String.Knots = d.Float64()
	}
	if !g.String.Weave {
		g.OverCm = g.String.ThickCm
	}
	if d.often(0.3) {
		g.String.Tails = d.from(0, 0.3)
	}
	if d.often(0.7) {
		d.tube(&g)
	} else {
		d.timber(&g)
	}
	return g
}

func (d *draw) tube(g *scene.Grid) {
	t := &scene.Tube{ThickCm: d.from(2, 3.6), GapCm: d.from(0.4, 9.5), Elbow: d.from(1.12, 1.35), SagCm: d.from(0, 0.5), Tied: d.often(0.5)}
	t.BowCm = d.from(0, 0.3*t.ThickCm)
	if d.often(0.2) {
		t.Colour = scene.Colour{0.42, 0.43, 0.45} // grey conduit
	}
	if d.often(0.4) {
		t.Tape, t.Tapes = d.Float64(), scene.Colour{d.Float64(), d.from(0, 0.4), d.from(0, 0.4)}
	}
	g.Tube = t
}

func (d *draw) timber(g *scene.Grid) {
	light := d.from(0.5, 1.4)
	g.WarpCm = 0 // boards are stiff
	g.Timber = &scene.Timber{WideCm: d.from(2.5, 7), ThickCm: d.from(1.5, 3), GapCm: d.from(0.3, 6), Through: d.often(0.4), Screws: d.often(0.6),
		Colour: scene.Colour{0.50 * light, 0.40 * light, 0.28 * light}}
}

// shoot places the camera so that the first frame, at the middle of the place, is seen at a tilt and takes a share of the
// picture's width.
func (d *draw) shoot(tiltDeg, share float64) {
	c, g := &d.s.Camera, &d.s.Grids[0]
	c.Focal35Mm = d.from(23.5, 29)
	if d.often(0.25) {
		c.Focal35Mm = d.from(29, 42)
	}
	c.K1 = d.from(-0.05, 0.03)
	c.TiltDeg, c.HeadingDeg, c.RollDeg = tiltDeg, d.from(0, 360), 4*d.NormFloat64()
	if tiltDeg < 15 {
		c.RollDeg = d.from(0, 360)
	}
	long := PitchCm * float64(max(g.Across, g.Down))
	c.DistanceCm = max(60, long*c.FocalPx()/(share*float64(c.WidthPx)))
	c.AimZCm = g.ZCm
	// the frame lies beside the middle of the picture, and stays in it
	free := max(0, 0.8-1.1*share) * float64(c.WidthPx) / c.FocalPx() * c.DistanceCm / 2
	d.aside(free*d.from(-1, 1), 0.5*free*d.from(-1, 1))
	d.s.Far.ReachCm = max(1.7*long, c.DistanceCm) + free
}

// aside moves what the camera aims at to its right and away from it.
func (d *draw) aside(right, away float64) {
	c := &d.s.Camera
	sin, cos := math.Sincos(c.HeadingDeg * math.Pi / 180)
	c.AimXCm, c.AimYCm = c.AimXCm+right*cos+away*sin, c.AimYCm-right*sin+away*cos
}

// lift turns the camera up where it stands, towards the horizon.
func (d *draw) lift(deg float64) {
	c := &d.s.Camera
	was, is := c.TiltDeg*math.Pi/180, min(c.TiltDeg+deg, 84)*math.Pi/180
	high := c.DistanceCm * math.Cos(was)
	d.aside(0, high*(math.Tan(is)-math.Tan(was)))
	c.TiltDeg, c.DistanceCm = is*180/math.Pi, high/math.Cos(is)
}
