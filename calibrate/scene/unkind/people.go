package unkind

import (
	"math"

	"fieldjacket/calibrate/scene"
)

// skins and cloths are the colours of hands and of what people wear.
var (
	skins  = []scene.Colour{{0.55, 0.36, 0.27}, {0.40, 0.24, 0.16}, {0.24, 0.14, 0.09}, {0.13, 0.075, 0.05}}
	cloths = []scene.Colour{{0.06, 0.07, 0.10}, {0.08, 0.14, 0.30}, {0.45, 0.38, 0.26}, {0.55, 0.06, 0.05}, {0.72, 0.70, 0.66}, {0.10, 0.22, 0.10}, {0.75, 0.30, 0.04}, {0.35, 0.35, 0.37}}
)

func (d *draw) skin() scene.Colour  { return skins[d.IntN(len(skins))] }
func (d *draw) cloth() scene.Colour { return cloths[d.IntN(len(cloths))] }

func (d *draw) add(r scene.Round) { d.s.Rounds = append(d.s.Rounds, r) }

// A spot is a place with a direction on the ground and a height over it.
type spot struct{ x, y, z, sin, cos float64 }

// at is the place ahead and aside of a spot, and higher.
func (p spot) at(ahead, aside, up float64) [3]float64 {
	return [3]float64{p.x + ahead*p.sin + aside*p.cos, p.y + ahead*p.cos - aside*p.sin, p.z + up}
}

func (d *draw) turned(x, y, z, bearingDeg float64) spot {
	sin, cos := math.Sincos(bearingDeg * math.Pi / 180)
	return spot{x, y, z, sin, cos}
}

// hand draws a forearm that reaches over the frame, with a half closed hand and, at times, a tool in it.
func (d *draw) hand(x, y, z float64) {
	p := d.turned(x, y, z, d.from(0, 360))
	skin := d.skin()
	high := d.from(5, 25)
	arm := scene.Round{Colour: skin, ThickCm: []float64{5.2, 6.5, 8.5, 9}, At: [][3]float64{p.at(-8, 0, 3), p.at(-16, 0, 3+0.3*high), p.at(-32, 1, 3+0.8*high), p.at(-60, 4, 3+1.6*high)}}
	d.add(arm)
	if d.often(0.6) { // a sleeve
		d.add(scene.Round{Colour: d.cloth(), ThickCm: []float64{9.5, 11, 12}, At: [][3]float64{p.at(-24, 0.5, 3+0.55*high), p.at(-40, 2, 3+1.05*high), p.at(-75, 5, 3+2*high)}})
	}
	for k := range 4 { // the palm and four fingers, bent down at two joints
		a := 2.1 * (float64(k) - 1.5)
		long := 1 - 0.07*(float64(k)-1.2)*(float64(k)-1.2)
		bend := d.from(0.6, 1.2)
		d.add(scene.Round{Colour: skin, Gloss: 0.03, ThickCm: []float64{3, 2.9, 2.5}, At: [][3]float64{p.at(-8, 0.6*a, 3), p.at(-4, a, 3.6), p.at(0, a, 3.4)}})
		d.add(scene.Round{Colour: skin, Gloss: 0.03, ThickCm: []float64{2.1, 2, 1.8, 1.4}, At: [][3]float64{p.at(0, a, 3.4), p.at(4*long, 0.95*a, 3.2-0.6*bend), p.at(6.3*long, 0.85*a, 3-2*bend), p.at(7.6*long, 0.8*a, 2.6-3.4*bend)}})
	}
	d.add(scene.Round{Colour: skin, Gloss: 0.03, ThickCm: []float64{2.6, 2.3, 1.7}, At: [][3]float64{p.at(-7, -2.5, 2.6), p.at(-2.5, -5.2, 1.8), p.at(1.8, -5, 0.2)}})
	switch {
	case d.often(0.3): // a pencil
		d.add(scene.Round{Colour: scene.Colour{0.6, 0.4, 0.05}, ThickCm: []float64{0.75}, At: [][3]float64{p.at(-6, 3, 9), p.at(6, -2.5, -0.5)}})
	case d.often(0.4): // a brush
		d.add(scene.Round{Colour: scene.Colour{0.45, 0.3, 0.16}, ThickCm: []float64{1.8}, At: [][3]float64{p.at(-9, 2, 7), p.at(6, -2, 1)}})
		d.add(scene.Round{Colour: scene.Colour{0.12, 0.1, 0.08}, ThickCm: []float64{2.2, 3.2}, At: [][3]float64{p.at(6, -2, 1), p.at(10, -3.2, -0.6)}})
	case d.often(0.5): // a calliper: a bar with two jaws
		d.bar(p, 9, -3, 0.5)
	}
}

// bar is a steel rule in a hand, with jaws.
func (d *draw) bar(p spot, ahead, aside, up float64) {
	steel := scene.Colour{0.42, 0.43, 0.45}
	bearing := math.Atan2(p.sin, p.cos)*180/math.Pi + d.from(-25, 25)
	c := p.at(ahead, aside, up)
	d.s.Sheets = append(d.s.Sheets, scene.Sheet{Pose: scene.Pose{XCm: c[0], YCm: c[1], ZCm: c[2] + 2, TurnDeg: bearing - 90}, WideCm: 22, LongCm: 1.7, ThickCm: 0.4, Colour: steel})
	for _, side := range []float64{-6, 2} {
		q := d.turned(c[0], c[1], c[2], bearing)
		d.add(scene.Round{Colour: steel, Gloss: 0.5, ThickCm: []float64{0.9, 0.25}, At: [][3]float64{q.at(side, 0, 1.9), q.at(side, 5, 1.7)}})
	}
}

// person draws someone who stands, or kneels, about a place.
func (d *draw) person(x, y float64) {
	p := d.turned(x, y, 0, d.from(0, 360))
	skin, shirt, legs := d.skin(), d.cloth(), d.cloth()
	tall := d.from(150, 188) / 170
	hip, lean := 88*tall, d.from(-5, 20)
	if d.often(0.4) { // kneeling
		hip = 48 * tall
		lean = d.from(5, 35)
	}
	for _, side := range []float64{-10, 10} {
		knee := d.from(0, 12)
		if hip < 80*tall {
			knee = 38
		}
		d.add(scene.Round{Colour: legs, ThickCm: []float64{11, 14, 18}, At: [][3]float64{p.at(-4, side*1.2, 6), p.at(knee, side*1.1, 0.5*hip), p.at(0, side, hip)}})
		d.add(scene.Round{Colour: scene.Colour{0.06, 0.05, 0.05}, ThickCm: []float64{9, 10}, At: [][3]float64{p.at(14, side*1.3, 4), p.at(-8, side*1.2, 5)}})
		elbow := p.at(lean*0.6+d.from(-5, 22), side*2.6, hip+22*tall)
		d.add(scene.Round{Colour: shirt, ThickCm: []float64{12, 10}, At: [][3]float64{p.at(lean, side*1.9, hip+48*tall), elbow}})
		d.add(scene.Round{Colour: skin, ThickCm: []float64{8, 6, 8}, At: [][3]float64{elbow, p.at(lean+d.from(5, 25), side*2, hip+8), p.at(lean+d.from(12, 30), side*1.8, hip)}})
	}
	d.add(scene.Round{Colour: shirt, ThickCm: []float64{32, 36, 38, 22}, At: [][3]float64{p.at(0, 0, hip-4), p.at(0.5*lean, 0, hip+22*tall), p.at(lean, 0, hip+42*tall), p.at(1.1*lean, 0, hip+54*tall)}})
	d.add(scene.Round{Colour: skin, ThickCm: []float64{15, 19, 16}, At: [][3]float64{p.at(1.2*lean, 0, hip+58*tall), p.at(1.3*lean, 0, hip+66*tall), p.at(1.3*lean, 0, hip+73*tall)}})
	if hat := d.cloth(); d.often(0.7) {
		d.add(scene.Round{Colour: hat, ThickCm: []float64{36, 36}, At: [][3]float64{p.at(1.3*lean, 0, hip+73*tall), p.at(1.3*lean, 0, hip+74*tall)}})
	}
}
