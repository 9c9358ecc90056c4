package overlay

import (
	"math"

	"fieldjacket/overlay/letters"
)

// up draws an open arrow about (x, y), unlike that of north: a shaft and a barbed head.
func (d *pen) up(x, y, clockwiseDeg float64) {
	const long, barb = 6, 3 // mm from the middle
	sin, cos := math.Sincos(clockwiseDeg * math.Pi / 180)
	at := func(right, up float64) [2]float64 { return [2]float64{x + right*cos + up*sin, y + right*sin - up*cos} }
	for _, line := range [][2][2]float64{{at(0, -long), at(0, long)}, {at(-barb, long-barb-1), at(0, long)}, {at(barb, long-barb-1), at(0, long)}} {
		d.rule(line[0][0], line[0][1], line[1][0], line[1][1], 1)
	}
}

// north draws an arrow about (x, y) that points clockwiseDeg from the top of the plate, its one half black and the other
// white, with an N beyond its tip that stays upright.
func (d *pen) north(x, y, clockwiseDeg float64) {
	const long, wide, notch, beyond = 9.5, 4.2, 5.5, 12.6 // mm from the middle
	sin, cos := math.Sincos(clockwiseDeg * math.Pi / 180)
	at := func(right, up float64) (float64, float64) {
		return d.x(x + right*cos + up*sin), d.y(y + right*sin - up*cos)
	}
	half := func(side float64) {
		d.dc.MoveTo(at(0, long))
		d.dc.LineTo(at(side*wide, -long))
		d.dc.LineTo(at(0, -notch))
		d.dc.ClosePath()
	}
	for _, side := range []float64{-1, 1} {
		half(side)
		d.dc.SetColor(black)
		if side > 0 {
			d.dc.SetColor(white)
		}
		d.dc.FillPreserve()
		d.dc.SetColor(black)
		d.dc.SetLineWidth(max(1, 0.4*d.perMm))
		d.dc.Stroke()
	}
	const em = 5.0
	width := widthMm("N", em, letters.Bold)
	d.words(words{text: "N", x: x + beyond*sin - width/2, y: y - beyond*cos + 0.36*em, em: em, weight: letters.Bold})
}
