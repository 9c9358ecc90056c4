package overlay

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

// Sizes on an overlay, mm of a picture that is 170 wide.
const (
	foundWideMm = 170
	nameMm      = 2.6
	markMm      = 0.55 // a mark that carries the fit
	outMm       = 1.1  // half a cross: one that does not
	foundFine   = 12   // px/mm of strokes and names at most: a larger picture is there to be looked at closely
)

// A stroke's colour and width. The colours are told apart by people who see few (Okabe and Ito, Color Universal Design,
// 2008; measured lengths and pointers in a paler yellow than theirs, which deuteranopes confuse with the orange), and each lies in a
// dark or light border, since ground and strings have every colour.
var strokes = map[look.Stroke]struct {
	c, border color.RGBA
	wideMm    float64
}{
	look.StrokePlane:      {color.RGBA{R: 240, G: 240, B: 240, A: 255}, color.RGBA{R: 60, G: 60, B: 60, A: 255}, 0.28},
	look.StrokeFirst:      {color.RGBA{R: 230, G: 159, A: 255}, black, 0.3},
	look.StrokeSecond:     {color.RGBA{R: 86, G: 180, B: 233, A: 255}, black, 0.3},
	look.StrokeConsidered: {color.RGBA{R: 204, G: 121, B: 167, A: 255}, black, 0.3},
	look.StrokeMeasured:   {paleYellow, black, 0.5},
}

var (
	usedColour    = color.RGBA{G: 158, B: 115, A: 255}
	outColour     = color.RGBA{R: 213, G: 94, A: 255}
	pointerColour = paleYellow
	paleYellow    = color.RGBA{R: 255, G: 250, B: 150, A: 255}
)

// ArrangeFound says how large an overlay's canvas is and where its picture goes, below the words.
func ArrangeFound(o look.Overlay) Layout {
	l, _ := arrangeFound(o)
	return l
}

func arrangeFound(o look.Overlay) (Layout, *block) {
	w, h := max(o.Picture.WidthPx, 0), max(o.Picture.HeightPx, 0)
	px := max(float64(w)/foundWideMm, float64(h)/tallestMm, leastPxMm)
	wide := max(leastMm, float64(w)/px+2*edgeMm)
	head := &block{width: wide - 2*edgeMm}
	y := head.text(o.Heading, 0, 0, head.width, headingMm, letters.Bold)
	for _, line := range o.Texts {
		y = head.text(line, 0, y+0.4, head.width, labelMm, letters.Regular)
	}
	at := image.Pt(int(math.Round((wide-float64(w)/px)/2*px)), int(math.Ceil((edgeMm+head.height+gapMm)*px)))
	l := Layout{Picture: image.Rectangle{Min: at, Max: at.Add(image.Pt(w, h))}, PxPerMm: px}
	l.Size = image.Pt(max(int(math.Ceil(wide*px)), l.Picture.Max.X), l.Picture.Max.Y+int(math.Ceil(edgeMm*px)))
	return l, head
}

// DrawFound draws everything of an overlay but its picture, which the canvas already holds in the rectangle that
// [ArrangeFound] gives. An error means that the canvas is not to be used.
func DrawFound(canvas *image.RGBA, o look.Overlay) error {
	l, head := arrangeFound(o)
	if head.err != nil {
		return head.err
	}
	if canvas.Rect != (image.Rectangle{Max: l.Size}) {
		return fmt.Errorf("canvas is %v, the overlay needs %v", canvas.Rect, l.Size)
	}
	margins(canvas, l.Picture)
	d := newPen(canvas, l.PxPerMm)
	d.block(head, edgeMm, edgeMm)
	on := newPen(within(canvas, l.Picture), min(l.PxPerMm, foundFine))
	for _, c := range o.Curves {
		if err := on.curve(c); err != nil {
			return err
		}
	}
	for _, s := range o.Spots {
		if !finite(s.At[0], s.At[1], s.From[0], s.From[1], s.Tip[0], s.Tip[1]) {
			return fmt.Errorf("mark at (%g, %g): want finite pixels", s.At[0], s.At[1])
		}
		on.spot(s)
	}
	for _, c := range o.Curves { // names last, over everything
		on.name(c)
	}
	if d.err == nil {
		d.err = on.err
	}
	return d.err
}

func (d *pen) curve(c look.Curve) error {
	style, ok := strokes[c.Stroke]
	if !ok {
		return fmt.Errorf("curve with stroke %q: no such stroke", c.Stroke)
	}
	for _, at := range c.Through {
		if !finite(at[0], at[1]) {
			return fmt.Errorf("curve through (%g, %g): want finite pixels", at[0], at[1])
		}
	}
	wide := max(1, style.wideMm*d.perMm)
	d.line(c.Through, style.border, wide+max(1, 0.16*d.perMm))
	d.line(c.Through, style.c, wide)
	return nil
}

// line draws a line through pixel centres, its width in px.
func (d *pen) line(through [][2]float64, c color.RGBA, widePx float64) {
	stroke(d.dc, centres(through), false, c, widePx)
}

// spot draws a mark: a dot where it carries the fit, else a cross, and its pointer.
func (d *pen) spot(s look.Spot) {
	if s.Tip != s.From {
		pointer := [][2]float64{s.From, s.Tip}
		d.line(pointer, black, max(3, 0.5*d.perMm))
		d.line(pointer, pointerColour, max(1, 0.22*d.perMm))
	}
	if s.Used {
		d.dc.DrawCircle(s.At[0]+0.5, s.At[1]+0.5, max(1.5, markMm/2*d.perMm))
		d.dc.SetColor(usedColour)
		d.dc.Fill()
		return
	}
	r := max(3, outMm/2*d.perMm)
	for _, end := range [][2]float64{{r, r}, {r, -r}} {
		stroke := [][2]float64{{s.At[0] - end[0], s.At[1] - end[1]}, {s.At[0] + end[0], s.At[1] + end[1]}}
		d.line(stroke, white, max(3, 0.5*d.perMm))
		d.line(stroke, outColour, max(1, 0.3*d.perMm))
	}
}

// name letters a curve's name on a white ground near its first end, wholly within the picture.
func (d *pen) name(c look.Curve) {
	if c.Name == "" || len(c.Through) == 0 {
		return
	}
	w, h := widthMm(c.Name, nameMm, letters.Regular)+0.8, 1.1*nameMm
	size := d.canvas.Rect.Size()
	x := min(max(c.Through[0][0]/d.perMm-w/2, 0), float64(size.X)/d.perMm-w)
	y := min(max(c.Through[0][1]/d.perMm-h/2, 0), float64(size.Y)/d.perMm-h)
	d.fill(white, x*d.perMm, y*d.perMm, w*d.perMm, h*d.perMm)
	d.words(words{text: c.Name, x: x + 0.4, y: y + 0.86*nameMm, em: nameMm, weight: letters.Regular})
}
