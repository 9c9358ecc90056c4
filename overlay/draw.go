package overlay

import (
	"fmt"
	"image"
	"image/draw"

	"fieldjacket/calibrate/look"
)

// Draw draws everything of a plate but its picture, which the canvas already holds in the rectangle that [Arrange] gives.
// The margins are painted over. On the picture it draws only thin lines: around the measured area, and from labels to
// their places. An error means that the canvas is not to be used: a letter that no font has, numbers that are not finite,
// labels that do not fit, a canvas of another size than Arrange gives.
func Draw(canvas *image.RGBA, p look.Plate) error {
	a, err := arrange(p)
	if err != nil {
		return err
	}
	if canvas.Rect != (image.Rectangle{Max: a.Size}) {
		return fmt.Errorf("canvas is %v, the plate needs %v", canvas.Rect, a.Size)
	}
	for _, at := range p.Outline {
		if !finite(at[0], at[1]) {
			return fmt.Errorf("outline of the measured area has the corner (%g, %g): want finite pixels", at[0], at[1])
		}
	}
	for _, line := range p.Lines {
		if err := lineFault(line); err != nil {
			return err
		}
	}
	for _, c := range p.Contours {
		if err := lineFault(look.Line{Through: c.Through, Text: c.Text}); err != nil {
			return err
		}
	}
	if p.Pale {
		pale(within(canvas, a.Picture))
	}
	margins(canvas, a.Picture)
	d := newPen(canvas, a.PxPerMm)
	on := newPen(within(canvas, a.Picture), a.PxPerMm)

	if len(p.Outline) > 1 {
		doubleLine(on.dc, centres(p.Outline), true, a.PxPerMm)
	}
	for _, line := range p.Lines {
		on.dashed(line.Through)
	}
	on.contours(p.Contours, p.Labels)
	if on.err != nil {
		return on.err
	}
	corner := [2]float64{float64(a.Picture.Min.X), float64(a.Picture.Min.Y)}
	for _, side := range []string{"top", "right", "bottom", "left"} {
		set, leaders, err := a.labels(p.Labels, side)
		if err != nil {
			return err
		}
		for _, l := range leaders {
			d.leader(l, on, corner)
		}
		for _, w := range set {
			d.words(w)
		}
	}
	d.block(a.head, edgeMm, a.headY)
	d.block(a.foot, edgeMm, a.footY)
	return d.err
}

// margins paints everything but the picture white.
func margins(canvas *image.RGBA, picture image.Rectangle) {
	all := canvas.Rect
	for _, r := range []image.Rectangle{
		image.Rect(all.Min.X, all.Min.Y, all.Max.X, picture.Min.Y),
		image.Rect(all.Min.X, picture.Max.Y, all.Max.X, all.Max.Y),
		image.Rect(all.Min.X, picture.Min.Y, picture.Min.X, picture.Max.Y),
		image.Rect(picture.Max.X, picture.Min.Y, all.Max.X, picture.Max.Y),
	} {
		draw.Draw(canvas, r, image.White, image.Point{}, draw.Src)
	}
}

// within is the picture alone, on the same memory, so that lines on it end at its edge.
func within(canvas *image.RGBA, picture image.Rectangle) *image.RGBA {
	part := canvas.SubImage(picture).(*image.RGBA)
	return &image.RGBA{Pix: part.Pix, Stride: part.Stride, Rect: image.Rectangle{Max: picture.Size()}}
}
