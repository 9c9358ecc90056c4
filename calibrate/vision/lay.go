//go:build cgo

package vision

import (
	"errors"
	"image"
	"image/color"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// Lay lays another photo's picture over the canvas's own in the rectangle at
// its place, pixel on pixel and at half strength, within the measured area of
// the picture's plane and as far as its photo goes.
func (c *Canvas) Lay(p *Picture, picture look.Picture, at image.Rectangle) error {
	if at.Dx() != picture.WidthPx || at.Dy() != picture.HeightPx || !at.In(c.Image.Rect) || at.Empty() || picture.Plane == nil {
		return errors.New("the picture does not fit the canvas, or has no plane")
	}
	source, err := sourceOf(picture)
	if err != nil {
		return err
	}
	coarse := coarser(p, source, picture)
	defer coarse.close()
	maps, err := newMaps(at.Size(), source, coarse.by)
	if err != nil {
		return err
	}
	defer maps.close()
	warped := gocv.NewMat()
	defer warped.Close()
	gocv.Remap(coarse.mat, &warped, &maps.x, &maps.y, gocv.InterpolationLinear, gocv.BorderConstant, color.RGBA{})
	over, err := warped.DataPtrUint8()
	if err != nil {
		return err
	}
	inside := within(picture)
	w, h := float32(coarse.mat.Cols()-1), float32(coarse.mat.Rows()-1)
	for y := range at.Dy() {
		row := c.Image.Pix[c.Image.PixOffset(at.Min.X, at.Min.Y+y):]
		for x := range at.Dx() {
			i := y*at.Dx() + x
			if mx, my := maps.xs[i], maps.ys[i]; !(mx >= 0 && my >= 0 && mx <= w && my <= h) || !inside(float64(x), float64(y)) {
				continue
			}
			for k := range 3 { // the photo is blue, green, red
				row[4*x+k] = uint8((int(row[4*x+k]) + int(over[3*i+2-k]) + 1) / 2)
			}
		}
	}
	return nil
}

// within tells whether a plate place lies within the measured area.
func within(picture look.Picture) func(x, y float64) bool {
	q := picture.Plane.Corners
	return func(x, y float64) bool {
		u, v := picture.Source(x, y)
		left, right := false, false
		for i, a := range q {
			b := q[(i+1)%4]
			if (b[0]-a[0])*(v-a[1])-(b[1]-a[1])*(u-a[0]) > 0 {
				left = true
			} else {
				right = true
			}
		}
		return left != right
	}
}
