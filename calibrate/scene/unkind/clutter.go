package unkind

import (
	"math"

	"fieldjacket/calibrate/scene"
)

// beside is a place at a distance from the middle of the first frame.
func (d *draw) beside(low, high float64) (x, y float64) {
	sin, cos := math.Sincos(d.from(0, 2*math.Pi))
	r := d.from(low, high)
	if len(d.s.Grids) > 0 {
		x, y = d.s.Grids[0].XCm, d.s.Grids[0].YCm
	}
	return x + r*sin, y + r*cos
}

// clutter strews what lies about a dig beside the frame, n things of it.
func (d *draw) clutter(n int) {
	half := 40.0
	if len(d.s.Grids) > 0 {
		half = 0.75*PitchCm*float64(d.s.Grids[0].Across) + 8
	}
	for range n {
		x, y := d.beside(half, half+90)
		switch d.IntN(8) {
		case 0:
			d.trowel(x, y)
		case 1:
			d.s.Handles = append(d.s.Handles, scene.Handle{XCm: x, YCm: y, TurnDeg: d.from(0, 360), LengthCm: d.from(15, 90), ThickCm: d.from(1, 4)})
		case 2:
			d.rope(x, y, d.from(60, 250), d.from(0.4, 1.4), d.cloth(), 0.9)
		case 3: // a bag
			d.s.Lumps = append(d.s.Lumps, scene.Lump{XCm: x, YCm: y, LengthCm: d.from(25, 50), WidthCm: d.from(18, 30), HighCm: d.from(10, 25), TurnDeg: d.from(0, 360), Colour: d.cloth()})
		case 4: // a bucket
			p := d.turned(x, y, 0, 0)
			d.add(scene.Round{Laid: true, Colour: d.cloth(), Gloss: 0.2, ThickCm: []float64{20, 27}, At: [][3]float64{p.at(0, 0, 0), p.at(0, 0, 26)}})
		case 5: // a crate
			high := d.from(8, 30)
			d.s.Sheets = append(d.s.Sheets, scene.Sheet{Pose: scene.Pose{XCm: x, YCm: y, ZCm: high, TurnDeg: d.from(0, 360)}, WideCm: d.from(20, 50), LongCm: d.from(20, 40), ThickCm: high, Print: scene.Planks, EveryCm: d.from(5, 12), Colour: scene.Colour{0.5, 0.4, 0.27}})
		case 6: // a notebook
			d.s.Sheets = append(d.s.Sheets, scene.Sheet{Pose: scene.Pose{XCm: x, YCm: y, ZCm: 2 + d.s.Ground.RoughCm, TurnDeg: d.from(0, 360), LeanDeg: d.from(0, 6)}, WideCm: 15, LongCm: 21, ThickCm: 1, Print: scene.Print(d.IntN(3)), EveryCm: d.from(0.5, 0.9), Ink: scene.Colour{0.35, 0.4, 0.55}})
		case 7:
			d.s.Tapes = append(d.s.Tapes, scene.Tape{Pose: scene.Pose{XCm: x, YCm: y, ZCm: 1.5 + d.s.Ground.RoughCm, TurnDeg: d.from(0, 360)}, LengthCm: d.from(30, 120), WideCm: 1.6})
		}
	}
}

func (d *draw) trowel(x, y float64) {
	z := 2 + d.s.Ground.RoughCm
	p := d.turned(x, y, z, d.from(0, 360))
	deg := math.Atan2(p.sin, p.cos) * 180 / math.Pi
	d.s.Sheets = append(d.s.Sheets, scene.Sheet{Pose: scene.Pose{XCm: x, YCm: y, ZCm: z, TurnDeg: deg - 90, LeanDeg: 8 * d.Float64()}, WideCm: 13, LongCm: 7, ThickCm: 0.2, Colour: scene.Colour{0.35, 0.36, 0.37}})
	d.add(scene.Round{Colour: scene.Colour{0.5, 0.5, 0.5}, Gloss: 0.4, ThickCm: []float64{1}, At: [][3]float64{p.at(-6, 0, 0.2), p.at(-11, 0, 2.5)}})
	d.add(scene.Round{Colour: d.cloth(), ThickCm: []float64{2.6, 3.2, 2.8}, At: [][3]float64{p.at(-11, 0, 2.5), p.at(-16, 0, 2.6), p.at(-22, 0, 2.6)}})
}

// rope lays a winding rope, root or cable from a place. stiff is 0 to 1.
func (d *draw) rope(x, y, longCm, thickCm float64, colour scene.Colour, stiff float64) {
	turn, bend := d.from(0, 2*math.Pi), 0.0
	r := scene.Round{Laid: true, Colour: colour, ThickCm: []float64{thickCm}, Twist: d.Float64()}
	for range int(longCm / 2) {
		r.At = append(r.At, [3]float64{x, y, 0.4 * thickCm})
		sin, cos := math.Sincos(turn)
		x, y = x+2*sin, y+2*cos
		bend = stiff*bend + (1-stiff)*0.9*d.NormFloat64()
		turn += bend
	}
	d.add(r)
}

// grass lets n blades grow about a place.
func (d *draw) grass(x, y, radius float64, n int) {
	green := scene.Colour{d.from(0.10, 0.30), d.from(0.15, 0.28), d.from(0.04, 0.12)}
	wind := d.from(0, 360)
	for range n {
		sin, cos := math.Sincos(d.from(0, 2*math.Pi))
		r := radius * math.Sqrt(d.Float64())
		p := d.turned(x+r*sin, y+r*cos, 0, wind+d.from(-70, 70))
		long, lean := d.from(5, 22), d.from(0.1, 1.1)
		light := d.from(0.6, 1.5)
		b := scene.Round{Laid: true, Colour: scene.Colour{green[0] * light, green[1] * light, green[2] * light}, ThickCm: []float64{0.45, 0.5, 0.4, 0.25, 0.06}}
		for i := range 5 {
			t := float64(i) / 4
			b.At = append(b.At, p.at(long*lean*t*t*0.8, 0, long*(t-0.35*lean*t*t)))
		}
		d.add(b)
	}
}
