//go:build cgo

package vision

import (
	"errors"
	"fmt"
	"image"
	"os"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// ErrUnwritten says that a plate or preview could not be written.
var ErrUnwritten = errors.New("not written")

const (
	plateQuality   = 92
	previewQuality = 82
	smallQuality   = 75
)

// Encode writes the canvas as a JPEG that carries its print resolution and
// the photo's colour profile, and nothing else of the photo.
//
// format is that of [look.DrawRequest]; a TIFF carries no colour profile.
func (c *Canvas) Encode(p *Picture, path, format string, dpi float64) error {
	bgr := gocv.NewMat()
	defer bgr.Close()
	gocv.CvtColor(c.mat, &bgr, gocv.ColorRGBAToBGR)
	switch format {
	case "png":
		return encodePNG(p, bgr, path, dpi)
	case "tif", "tiff":
		return encodeTIFF(bgr, path, dpi)
	}
	return encode(p, bgr, path, plateQuality, dpi, c.Comment)
}

// Preview writes the upright photo at 1600 px at most.
func Preview(p *Picture, path string) error {
	return encode(p, p.preview(), path, previewQuality, 150, "")
}

// Small writes the upright photo at 320 px at most, for contact sheets and day pages.
func Small(p *Picture, path string) error {
	from := p.preview()
	by := min(1, smallPx/float64(max(from.Cols(), from.Rows())))
	m := gocv.NewMat()
	defer m.Close()
	gocv.Resize(from, &m, image.Pt(max(1, int(float64(from.Cols())*by+0.5)), max(1, int(float64(from.Rows())*by+0.5))), 0, 0, gocv.InterpolationArea)
	return encode(p, m, path, smallQuality, 72, "")
}

func encode(p *Picture, m gocv.Mat, path string, quality int, dpi float64, comment string) error {
	buffer, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, m, []int{int(gocv.IMWriteJpegQuality), quality})
	if err != nil {
		return err
	}
	defer buffer.Close()
	out, err := withResolution(buffer.GetBytes(), dpi, append(look.CommentSegment(comment), profileSegments(p.profile)...))
	if err != nil {
		return err
	}
	if len(out) == 0 {
		return errors.New("nothing was encoded")
	}
	return written(path, out)
}

// written writes an encoded picture.
func written(path string, picture []byte) error {
	if err := os.WriteFile(path, picture, 0o644); err != nil {
		return fmt.Errorf("%w: %w", ErrUnwritten, err)
	}
	return nil
}

// encodePNG writes a PNG with its resolution and the photo's colour profile.
func encodePNG(p *Picture, m gocv.Mat, path string, dpi float64) error {
	buffer, err := gocv.IMEncode(gocv.PNGFileExt, m)
	if err != nil {
		return err
	}
	defer buffer.Close()
	out, err := pngWithResolution(buffer.GetBytes(), dpi, p.profile)
	if err != nil {
		return err
	}
	return written(path, out)
}

// The parameters of OpenCV's TIFF writer (imgcodecs.hpp, IMWRITE_TIFF_*),
// which gocv does not name.
const (
	tiffUnit = 256 // 2: inch
	tiffXDPI = 257
	tiffYDPI = 258
)

// encodeTIFF writes a TIFF with its resolution, in whole dots per inch.
func encodeTIFF(m gocv.Mat, path string, dpi float64) error {
	whole := int(dpi + 0.5)
	buffer, err := gocv.IMEncodeWithParams(".tiff", m, []int{tiffUnit, 2, tiffXDPI, whole, tiffYDPI, whole})
	if err != nil {
		return err
	}
	defer buffer.Close()
	return written(path, buffer.GetBytes())
}
