package overlay

import (
	"image/color"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

var (
	black = color.RGBA{A: 255}
	white = color.RGBA{R: 255, G: 255, B: 255, A: 255}
)

// barPx is the bar's length in plate pixels.
func barPx(bar *look.Bar) float64 {
	if bar == nil {
		return 0
	}
	return float64(bar.Blocks) * bar.BlockCm * bar.PxPerCm
}

// bar sets the scale bar, wide mm long, with its ends labelled, from y down. The words over its right end stand in the
// middle of that end, so that nobody takes the end of the words for the end of the bar.
func (b *block) bar(bar look.Bar, y, wide float64) {
	const start = "0"
	left, half := widthMm(start, labelMm, letters.Bold)/2, widthMm(bar.Text, labelMm, letters.Bold)/2
	b.line(start, 0, y+baseEm*labelMm, labelMm, letters.Bold)
	b.line(bar.Text, max(left+wide-half, 2*left+1), y+baseEm*labelMm, labelMm, letters.Bold)
	b.shape(func(d *pen) { d.bar(bar, left, y+lineEm*labelMm+0.6) })
}

// bar draws the blocks, black and white by turns, from x on and y down, in a black outline within a white one, so that it
// reads on any ground. Its length is exact to a fraction of a pixel.
func (d *pen) bar(bar look.Bar, x, y float64) {
	x0, y0 := d.x(x), d.y(y)
	block, tall := bar.BlockCm*bar.PxPerCm, barTall*d.perMm
	long := block * float64(bar.Blocks)
	line := 0.3 * d.perMm
	d.fill(white, x0-2*line, y0-2*line, long+4*line, tall+4*line)
	d.fill(black, x0-line, y0-line, long+2*line, tall+2*line)
	for i := range bar.Blocks {
		if i%2 == 1 {
			d.fill(white, x0+float64(i)*block, y0, block, tall)
		}
	}
}
