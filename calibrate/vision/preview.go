//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/vision/imagefile"
)

// The pictures that people are shown: the preview beside a plate and on the
// page, the small one on contact sheets and day pages.
const (
	previewPx      = 1600 // long side, at most
	previewQuality = 82
	smallPx        = 320
	smallQuality   = 75
)

// Preview writes the upright photo at 1600 px at most and, where small names
// a file, at 320 px.
func Preview(p *Picture, path, small string) error {
	shown := p.preview()
	defer shown.Close()
	if err := p.write(shown, path, previewQuality); err != nil || small == "" {
		return err
	}
	m := gocv.NewMat()
	defer m.Close()
	if size, ok := sizeWithin(shown, smallPx); ok {
		gocv.Resize(shown, &m, size, 0, 0, gocv.InterpolationArea)
	} else {
		shown.CopyTo(&m)
	}
	return p.write(m, small, smallQuality)
}

// write writes a picture of the photo as a JPEG in the photo's colours.
func (p *Picture) write(m gocv.Mat, path string, quality int) error {
	out, err := imagefile.JPEG(m, quality, 150, "", p.profile)
	return written(path, out, err)
}

// preview is the picture in colour, reduced to at most previewPx. The caller
// closes it.
func (p *Picture) preview() gocv.Mat {
	from := p.halvedTo(previewPx)
	size, ok := sizeWithin(p.Colour, previewPx)
	if !ok {
		return from.Region(image.Rect(0, 0, from.Cols(), from.Rows()))
	}
	by := gocv.InterpolationLinear // of less than two pixels each way, which it takes all in
	if from.Cols() >= 2*size.X {
		by = gocv.InterpolationArea
	}
	m := gocv.NewMat()
	gocv.Resize(from, &m, size, 0, 0, by)
	return m
}

// sizeWithin is the size of a picture reduced to a long side; false where it is
// not longer.
func sizeWithin(m gocv.Mat, longPx int) (size image.Point, ok bool) {
	w, h := m.Cols(), m.Rows()
	f := float64(longPx) / float64(max(w, h))
	return image.Pt(max(1, int(float64(w)*f+0.5)), max(1, int(float64(h)*f+0.5))), f < 1
}
