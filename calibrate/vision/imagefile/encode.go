//go:build cgo

package imagefile

import (
	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// JPEG makes a JPEG of pixels in the order blue, green, red, or red, green,
// blue and one that does not count, with its resolution, a comment and a
// colour profile where there is one.
func JPEG(m gocv.Mat, quality int, dpi float64, comment string, profile []byte) ([]byte, error) {
	jpeg, err := encodeJPEG(m, quality)
	if err != nil {
		return nil, err
	}
	return withResolution(jpeg, dpi, append(look.CommentSegment(comment), profileSegments(profile)...))
}

// PNG makes a PNG of pixels in the order blue, green, red.
func PNG(m gocv.Mat, dpi float64, profile []byte) ([]byte, error) {
	buffer, err := gocv.IMEncode(gocv.PNGFileExt, m)
	if err != nil {
		return nil, err
	}
	defer buffer.Close()
	return pngWithResolution(buffer.GetBytes(), dpi, profile)
}

// The parameters of OpenCV's TIFF writer (imgcodecs.hpp, IMWRITE_TIFF_*),
// which gocv does not name.
const (
	tiffUnit = 256 // 2: inch
	tiffXDPI = 257
	tiffYDPI = 258
)

// TIFF makes a TIFF of pixels in the order blue, green, red, with its
// resolution in whole dots per inch; it carries no colour profile.
func TIFF(m gocv.Mat, dpi float64) ([]byte, error) {
	whole := int(dpi + 0.5)
	buffer, err := gocv.IMEncodeWithParams(".tiff", m, []int{tiffUnit, 2, tiffXDPI, whole, tiffYDPI, whole})
	if err != nil {
		return nil, err
	}
	defer buffer.Close()
	return append([]byte{}, buffer.GetBytes()...), nil
}
