//go:build cgo

package vision

import (
	"errors"
	"image"
	"os"

	"gocv.io/x/gocv"
)

const (
	plateQuality   = 92
	previewQuality = 82
	previewPx      = 1600 // long side
)

// Encode writes the canvas as a JPEG that carries its print resolution and
// the photo's colour profile, and nothing else of the photo.
func (c *Canvas) Encode(p *Picture, path string, dpi float64) error {
	bgr := gocv.NewMat()
	defer bgr.Close()
	gocv.CvtColor(c.mat, &bgr, gocv.ColorRGBAToBGR)
	return encode(p, bgr, path, plateQuality, dpi)
}

// Preview writes the upright photo at 1600 px at most.
func Preview(p *Picture, path string) error {
	w, h := p.Size()
	if max(w, h) <= previewPx {
		return encode(p, p.Colour, path, previewQuality, 150)
	}
	f := float64(previewPx) / float64(max(w, h))
	m := gocv.NewMat()
	defer m.Close()
	gocv.Resize(p.Colour, &m, image.Pt(max(1, int(float64(w)*f+0.5)), max(1, int(float64(h)*f+0.5))), 0, 0, gocv.InterpolationArea)
	return encode(p, m, path, previewQuality, 150)
}

func encode(p *Picture, m gocv.Mat, path string, quality int, dpi float64) error {
	buffer, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, m, []int{int(gocv.IMWriteJpegQuality), quality})
	if err != nil {
		return err
	}
	defer buffer.Close()
	out, err := withResolution(buffer.GetBytes(), dpi, profileSegments(p.profile))
	if err != nil {
		return err
	}
	if len(out) == 0 {
		return errors.New("nothing was encoded")
	}
	return os.WriteFile(path, out, 0o644)
}
