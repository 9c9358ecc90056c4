//go:build cgo

package vision

import (
	"errors"
	"fmt"
	"os"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// ErrUnwritten says that a plate or preview could not be written.
var ErrUnwritten = errors.New("not written")

const plateQuality = 92

// Encode writes the canvas as a JPEG that carries its print resolution and
// the photo's colour profile, and nothing else of the photo.
//
// format is that of [look.DrawRequest]; a TIFF carries no colour profile.
func (c *Canvas) Encode(p *Picture, path, format string, dpi float64) error {
	switch format {
	case "png", "tif", "tiff":
		bgr := gocv.NewMat()
		defer bgr.Close()
		gocv.CvtColor(c.mat, &bgr, gocv.ColorRGBAToBGR)
		if format == "png" {
			return encodePNG(p, bgr, path, dpi)
		}
		return encodeTIFF(bgr, path, dpi)
	}
	return encode(p, c.mat, path, plateQuality, dpi, c.Comment)
}

// encode writes a JPEG of pixels as [encodeJPEG] takes them.
func encode(p *Picture, m gocv.Mat, path string, quality int, dpi float64, comment string) error {
	jpeg, err := encodeJPEG(m, quality)
	if err != nil {
		return err
	}
	out, err := withResolution(jpeg, dpi, append(look.CommentSegment(comment), profileSegments(p.profile)...))
	if err != nil {
		return err
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
