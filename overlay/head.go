package overlay

import (
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

// Sizes of the words, mm. Capitals are 0.72 of these.
const (
	numberMm   = 11.5 // capitals of 8.3 mm, read across a bench
	stampMm    = 6.5
	headingMm  = 4.6
	headlineMm = 4.4
	labelMm    = 3.3
	rowMm      = 2.9
	smallMm    = 2.7
)

// headOf is the block above the picture: the number, beside or below it the heading, and the stamp in a heavy frame.
func headOf(p look.Plate, width float64) *block {
	b := &block{width: width}
	number := widthMm(p.Number, numberMm, letters.Bold)
	y := b.text(p.Number, 0, 0, width, numberMm, letters.Bold)
	if room := width - number - 6; room >= 0.35*width {
		foot := baseEm * numberMm // the heading stands on the number's line
		lines, _ := letters.Wrap(p.Heading, letters.Regular, room/headingMm)
		top := max(0, foot-baseEm*headingMm-lineEm*headingMm*float64(len(lines)-1))
		y = max(y, b.text(p.Heading, number+6, top, room, headingMm, letters.Regular))
	} else {
		y = b.text(p.Heading, 0, y, width, headingMm, letters.Regular)
	}
	if p.Stamp == "" {
		return b
	}
	const frame, inset = 0.9, 2.6
	top := y + 1
	y = b.text(p.Stamp, inset, top+inset-1, width-2*inset, stampMm, letters.Bold) + inset - 1
	wide := 0.0
	for _, w := range b.words {
		if w.y > top {
			wide = max(wide, w.width)
		}
	}
	b.shape(func(d *pen) { d.box(frame/2, top, wide+2*inset-frame, y-top, frame) })
	b.height = y + frame/2
	return b
}
