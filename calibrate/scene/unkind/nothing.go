package unkind

import (
	"math"

	"fieldjacket/calibrate/scene"
)

// Nothings are the kinds without a frame of strings.
var Nothings = []Kind{
	{Name: "people and tools", Nothing: true, draw: func(d *draw) { d.bare(0, 65); d.clutter(6 + d.IntN(8)); d.bystanders() }},
	{Name: "shadow of a net", Nothing: true, draw: func(d *draw) { d.set(0, 55, 0.3, 0.9); d.s.Grids[0].ShadowOnly = true }},
	{Name: "an empty frame", Nothing: true, draw: func(d *draw) { d.set(0, 60, 0.3, 0.9); d.without(0); d.without(1) }},
	{Name: "strings one way only", Nothing: true, draw: func(d *draw) { d.set(0, 60, 0.3, 0.9); d.without(d.IntN(2)) }},
	{Name: "ladder", Nothing: true, draw: func(d *draw) { d.bare(0, 60); d.ladder(); d.clutter(3) }},
	{Name: "fence", Nothing: true, draw: func(d *draw) { d.bare(45, 80); d.fence(); d.clutter(4) }},
	{Name: "chain-link mesh", Nothing: true, draw: func(d *draw) { d.bare(0, 55); d.mesh() }},
	{Name: "paved tiles", Nothing: true, draw: func(d *draw) { d.bare(0, 60); d.paved(); d.clutter(4) }},
	{Name: "planks", Nothing: true, draw: func(d *draw) { d.bare(0, 60); d.decked(); d.clutter(2) }},
	{Name: "gravel with roots", Nothing: true, draw: func(d *draw) { d.bare(0, 60); d.roots() }},
	{Name: "paper, hatching and keyboards", Nothing: true, draw: func(d *draw) { d.bare(0, 50); d.squaredPaper() }},
	{Name: "tyre tracks", Nothing: true, draw: func(d *draw) { d.bare(0, 60); d.tracks() }},
}

// bare draws a place without a frame.
func (d *draw) bare(tiltLow, tiltHigh float64) {
	d.set(tiltLow, tiltHigh, 0.3, 0.9)
	d.s.Grids = nil
}

// without takes the strings of one family out of the frame.
func (d *draw) without(family int) {
	g := &d.s.Grids[0]
	g.String.Tails = 0
	for n := range max(g.Across, g.Down) + 1 {
		g.Missing[family] = append(g.Missing[family], n)
	}
	if g.Tube != nil {
		g.Tube.Tied = false
	}
}

func (d *draw) bystanders() {
	for range d.IntN(3) {
		x, y := d.beside(60, 300)
		d.person(x, y)
	}
}

// ladder lies on the ground, its rungs as even as strings.
func (d *draw) ladder() {
	p := d.turned(d.from(-15, 15), d.from(-15, 15), 3+d.s.Ground.RoughCm, d.from(0, 360))
	wide, every, thick := d.from(28, 42), d.from(18, 30), d.from(2, 4)
	colour := []scene.Colour{{0.55, 0.56, 0.58}, {0.5, 0.38, 0.22}, {0.65, 0.5, 0.05}}[d.IntN(3)]
	for _, side := range []float64{-wide / 2, wide / 2} {
		d.add(scene.Round{Colour: colour, Gloss: 0.3, ThickCm: []float64{2 * thick}, At: [][3]float64{p.at(-170, side, 0), p.at(170, side, 0)}})
	}
	for at := -160.0; at < 165; at += every {
		d.add(scene.Round{Colour: colour, Gloss: 0.3, ThickCm: []float64{thick}, At: [][3]float64{p.at(at, -wide/2, 0), p.at(at, wide/2, 0)}})
	}
}

// fence stands behind: posts with wires, or uprights with rails.
func (d *draw) fence() {
	c := d.s.Camera
	p := d.turned(0, 0, 0, c.HeadingDeg+d.from(-30, 30))
	away, high := d.from(20, 200), d.from(60, 140)
	colour := []scene.Colour{{0.5, 0.5, 0.52}, {0.75, 0.74, 0.72}, {0.4, 0.3, 0.2}}[d.IntN(3)]
	wires, every := 3+d.IntN(8), d.from(8, 60)
	for n := range wires {
		z := high * float64(n+1) / float64(wires)
		d.add(scene.Round{Colour: colour, ThickCm: []float64{d.from(0.2, 0.6)}, At: [][3]float64{p.at(away, -400, z), p.at(away, 0, z-d.from(0, 2)), p.at(away, 400, z)}})
	}
	for at := -300.0; at < 300; at += every {
		d.add(scene.Round{Colour: colour, ThickCm: []float64{d.from(1, 4)}, At: [][3]float64{p.at(away, at+d.NormFloat64(), 0), p.at(away, at, high+3)}})
	}
}

// mesh is chain-link wire that lies on the ground: zigzag wires hooked into each other at 50 to 75 degrees.
func (d *draw) mesh() {
	p := d.turned(d.from(-20, 20), d.from(-20, 20), 1.5+d.s.Ground.RoughCm, d.from(0, 360))
	half, step, slope := d.from(30, 60), d.from(3, 6), d.from(0.55, 0.75)
	for n := -int(half / step); n <= int(half/step); n++ {
		r := scene.Round{Colour: scene.Colour{0.45, 0.46, 0.47}, Gloss: 0.4, ThickCm: []float64{0.3}}
		for k := range int(2 * half / (step * slope)) {
			side := step * (float64((k+n)&1) - 0.5)
			r.At = append(r.At, p.at(float64(k)*step*slope-half, float64(n)*step+1.05*side, 0.3*float64(k&1)))
		}
		d.add(r)
	}
}

// paved is a floor of tiles.
func (d *draw) paved() {
	at, every := d.from(0, 180), d.from(6, 30)
	d.s.Ground.RoughCm, d.s.Ground.JointCm = 0.1, 0
	d.s.Ground.Rock = scene.Colour{d.from(0.3, 0.6), d.from(0.28, 0.5), d.from(0.25, 0.45)}
	seam := scene.Seam{EveryCm: every, Uneven: d.from(0, 0.08), WideCm: d.from(0.15, 0.5), DeepCm: d.from(0, 0.3)}
	if d.often(0.5) {
		seam.Colour = scene.Colour{0.6, 0.58, 0.55} // light grout
	}
	for k := range 2 {
		seam.BearingDeg = at + 90*float64(k)
		d.s.Ground.Seams = append(d.s.Ground.Seams, seam)
	}
}

// decked is a floor of planks with gaps.
func (d *draw) decked() {
	d.s.Sheets = append(d.s.Sheets, scene.Sheet{Pose: scene.Pose{ZCm: 3 + 2*d.s.Ground.RoughCm, TurnDeg: d.from(0, 180)}, WideCm: d.from(100, 200), LongCm: d.from(120, 300), ThickCm: 2, Print: scene.Planks,
		EveryCm: d.from(6, 18), Colour: scene.Colour{0.42, 0.33, 0.22}})
	d.s.Handles = append(d.s.Handles, scene.Handle{ZCm: 7 + 2*d.s.Ground.RoughCm, TurnDeg: d.from(0, 180), LengthCm: 120, ThickCm: 3})
}

// roots wind over gravel; some run nearly straight.
func (d *draw) roots() {
	d.s.Ground.PebblesPerM2, d.s.Ground.ChipsPerM2 = d.from(800, 2500), d.from(500, 2500)
	for range 10 + d.IntN(30) {
		light := d.from(0.4, 1.6)
		d.rope(d.from(-70, 70), d.from(-70, 70), d.from(30, 180), d.from(0.2, 1.5), scene.Colour{0.35 * light, 0.27 * light, 0.18 * light}, d.from(0.3, 0.97))
	}
}

// squaredPaper is a sheet of squared, ruled or hatched paper, keyboards and a grating.
func (d *draw) squaredPaper() {
	for range 2 + d.IntN(4) {
		s := scene.Sheet{Pose: scene.Pose{XCm: d.from(-35, 35), YCm: d.from(-30, 30), ZCm: 2 + 2*d.s.Ground.RoughCm + d.from(0, 3), TurnDeg: d.from(0, 360)}, WideCm: d.from(15, 30), LongCm: d.from(20, 42), ThickCm: 0.3,
			Print: scene.Print(1 + d.IntN(3)), EveryCm: d.from(0.4, 1), Ink: scene.Colour{d.from(0.05, 0.5), d.from(0.1, 0.5), d.from(0.2, 0.6)}}
		switch d.IntN(4) {
		case 0:
			s.Print, s.WideCm, s.LongCm, s.ThickCm, s.EveryCm = scene.Keys, d.from(26, 44), 10, 1.5, 1.9
			s.Colour, s.Ink = scene.Colour{0.1, 0.1, 0.1}, scene.Colour{0.03, 0.03, 0.03}
			if d.often(0.4) {
				s.Colour, s.Ink = s.Ink, scene.Colour{0.7, 0.7, 0.7}
			}
		case 1:
			s.Print, s.WideCm, s.LongCm, s.EveryCm = scene.Grating, d.from(20, 45), d.from(20, 45), d.from(2, 4)
			s.Colour, s.Ink = scene.Colour{0.4, 0.4, 0.42}, scene.Colour{0.02, 0.02, 0.02}
		}
		d.s.Sheets = append(d.s.Sheets, s)
	}
}

func (d *draw) tracks() {
	d.s.Ground.JointCm = 0
	at := d.from(0, 360)
	for n := range 1 + d.IntN(3) {
		sin, cos := math.Sincos(at * math.Pi / 180)
		aside := 35 * (float64(n) - 1)
		d.s.Ground.Tracks = append(d.s.Ground.Tracks, scene.Track{XCm: aside * cos, YCm: -aside * sin, BearingDeg: at, WideCm: d.from(14, 30), EveryCm: d.from(3, 9), DeepCm: d.from(0.4, 1.5)})
		if d.often(0.3) {
			at += d.from(60, 120)
		}
	}
}
