package overlay

import (
	"fmt"
	"image"
	"math"

	"fieldjacket/calibrate/look"
)

const (
	dashMm = 4
	gapsMm = 2.5 // between dashes
)

func lineFault(line look.Line) error {
	for _, at := range line.Through {
		if !finite(at[0], at[1]) {
			return fmt.Errorf("outline %q has the point (%g, %g): want finite pixels", line.Text, at[0], at[1])
		}
	}
	return nil
}

// dashed draws a closed line in dashes, dark within light, so that nobody takes it for the line of the measured area.
func (d *pen) dashed(through [][2]float64) {
	if len(through) < 2 {
		return
	}
	dash, gap := dashMm*d.perMm, gapsMm*d.perMm
	var piece [][2]float64
	drawn, left := true, dash
	end := func() {
		if drawn && len(piece) > 1 {
			doubleLine(d.dc, piece, false, d.perMm)
		}
		piece = nil
	}
	through = centres(through)
	for i := range through {
		a, b := through[i], through[(i+1)%len(through)]
		long := math.Hypot(b[0]-a[0], b[1]-a[1])
		piece = append(piece, a)
		for at := 0.0; long-at > left; {
			at += left
			p := [2]float64{a[0] + at/long*(b[0]-a[0]), a[1] + at/long*(b[1]-a[1])}
			piece = append(piece, p)
			end()
			drawn, left = !drawn, map[bool]float64{true: gap, false: dash}[drawn]
			piece = [][2]float64{p}
			long, a, at = long-at, p, 0
		}
		left -= long
	}
	end()
}

// pale lightens a picture so that pencil shows on it: black becomes a light grey, white stays.
func pale(picture *image.RGBA) {
	for y := range picture.Rect.Dy() {
		row := picture.Pix[y*picture.Stride : y*picture.Stride+4*picture.Rect.Dx()]
		for i := range row {
			row[i] = uint8(255 - (255-int(row[i]))*2/5)
		}
	}
}
