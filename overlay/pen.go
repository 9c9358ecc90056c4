package overlay

import (
	"image"
	"image/color"
	"math"

	"github.com/fogleman/gg"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"fieldjacket/overlay/letters"
)

// A pen draws on a canvas at places counted in mm from its origin. It belongs to one goroutine, as its font faces do.
type pen struct {
	canvas *image.RGBA
	dc     *gg.Context
	perMm  float64 // canvas pixels per mm
	x0, y0 float64 // the origin, mm
	faces  map[face]font.Face
	err    error
}

type face struct {
	font string
	px   float64
}

func newPen(canvas *image.RGBA, perMm float64) *pen {
	return &pen{canvas: canvas, dc: gg.NewContextForRGBA(canvas), perMm: perMm, faces: map[face]font.Face{}}
}

func (d *pen) x(mm float64) float64 { return (d.x0 + mm) * d.perMm }
func (d *pen) y(mm float64) float64 { return (d.y0 + mm) * d.perMm }

// block draws a block with its corner at (x, y).
func (d *pen) block(b *block, x, y float64) {
	d.x0, d.y0 = x, y
	for _, draw := range b.shapes {
		draw(d)
	}
	for _, w := range b.words {
		d.words(w)
	}
	d.x0, d.y0 = 0, 0
}

// words letters one line in black.
func (d *pen) words(w words) {
	runs, err := letters.Runs(w.text, w.weight)
	if err != nil {
		d.fail(err)
		return
	}
	dot := fixed.Point26_6{X: to26(d.x(w.x)), Y: fixed.I(int(math.Round(d.y(w.y))))}
	for _, run := range runs {
		f, err := d.face(run.Font, w.em*d.perMm)
		if err != nil {
			d.fail(err)
			return
		}
		drawer := font.Drawer{Dst: d.canvas, Src: image.NewUniform(black), Face: f, Dot: dot}
		drawer.DrawString(run.Text)
		dot = drawer.Dot
	}
}

func (d *pen) face(f *letters.Font, px float64) (font.Face, error) {
	key := face{f.Name, px}
	if have, ok := d.faces[key]; ok {
		return have, nil
	}
	made, err := opentype.NewFace(f.Parsed, &opentype.FaceOptions{Size: px, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, err
	}
	d.faces[key] = made
	return made, nil
}

func (d *pen) fail(err error) {
	if d.err == nil {
		d.err = err
	}
}

// fill paints a rectangle given in canvas pixels, its edges to a fraction of a pixel.
func (d *pen) fill(c color.RGBA, x, y, w, h float64) {
	d.dc.SetColor(c)
	d.dc.DrawRectangle(x, y, w, h)
	d.dc.Fill()
}

// rule draws a black line of a width in mm.
func (d *pen) rule(x1, y1, x2, y2, wide float64) {
	d.dc.SetColor(black)
	d.dc.SetLineWidth(max(1, wide*d.perMm))
	d.dc.SetLineCapButt()
	d.dc.DrawLine(d.x(x1), d.y(y1), d.x(x2), d.y(y2))
	d.dc.Stroke()
}

// box draws the outline of a rectangle.
func (d *pen) box(x, y, w, h, wide float64) {
	d.dc.SetColor(black)
	d.dc.SetLineWidth(max(1, wide*d.perMm))
	d.dc.DrawRectangle(d.x(x), d.y(y), w*d.perMm, h*d.perMm)
	d.dc.Stroke()
}

// doubleLine draws a thin dark line within a light one, which shows on any ground.
func (d *pen) doubleLine(through [][2]float64, closed bool) {
	at := make([][2]float64, len(through))
	for i, p := range through {
		at[i] = [2]float64{d.x(p[0]), d.y(p[1])}
	}
	doubleLine(d.dc, at, closed, d.perMm)
}

const (
	darkMm  = 0.35
	lightMm = 1.0
)

// doubleLine does the same in canvas pixels.
func doubleLine(dc *gg.Context, through [][2]float64, closed bool, perMm float64) {
	stroke(dc, through, closed, white, max(3, lightMm*perMm))
	stroke(dc, through, closed, black, max(1, darkMm*perMm))
}

// stroke draws a line through canvas places, its width in px.
func stroke(dc *gg.Context, through [][2]float64, closed bool, c color.RGBA, widePx float64) {
	dc.ClearPath()
	if closed { // from the middle of a side, since gg joins nothing where a path closes
		a, b := through[len(through)-1], through[0]
		dc.LineTo((a[0]+b[0])/2, (a[1]+b[1])/2)
	}
	for _, p := range through {
		dc.LineTo(p[0], p[1])
	}
	if closed {
		dc.ClosePath()
	}
	dc.SetColor(c)
	dc.SetLineWidth(widePx)
	dc.SetLineCapButt()
	dc.Stroke()
}

// centres are the places of pixels on the canvas: a pixel's centre is half a pixel from its corner.
func centres(pixels [][2]float64) [][2]float64 {
	at := make([][2]float64, len(pixels))
	for i, p := range pixels {
		at[i] = [2]float64{p[0] + 0.5, p[1] + 0.5}
	}
	return at
}

func to26(px float64) fixed.Int26_6 { return fixed.Int26_6(math.Round(px * 64)) }
