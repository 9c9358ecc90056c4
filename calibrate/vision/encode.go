//go:build cgo

package vision

import (
	"errors"
	"fmt"
	"os"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/vision/imagefile"
)

// ErrUnwritten says that a plate or preview could not be written.
var ErrUnwritten = errors.New("not written")

const plateQuality = 92

// Encode writes the canvas as a JPEG that carries its print resolution and
// the photo's colour profile, and nothing else of the photo.
//
// format is that of look.DrawRequest; a TIFF carries no colour profile.
func (c *Canvas) Encode(p *Picture, path, format string, dpi float64) error {
	var out []byte
	var err error
	switch format {
	case "png", "tif", "tiff":
		bgr := gocv.NewMat()
		defer bgr.Close()
		gocv.CvtColor(c.mat, &bgr, gocv.ColorRGBAToBGR)
		if format == "png" {
			out, err = imagefile.PNG(bgr, dpi, p.profile)
		} else {
			out, err = imagefile.TIFF(bgr, dpi)
		}
	default:
		out, err = imagefile.JPEG(c.mat, plateQuality, dpi, c.Comment, p.profile)
	}
	return written(path, out, err)
}

// written writes an encoded picture, unless it could not be encoded.
func written(path string, picture []byte, err error) error {
	if err != nil {
		return err
	}
	if err := os.WriteFile(path, picture, 0o644); err != nil {
		return fmt.Errorf("%w: %w", ErrUnwritten, err)
	}
	return nil
}
