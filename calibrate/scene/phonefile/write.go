package phonefile

import (
	"bytes"
	"image"
	"image/jpeg"
	"io"

	"github.com/disintegration/imaging"
)

// WritePhoto writes an upright picture as the JPEG a phone would have made of
// it, with its tags: the pixels are stored turned as Orientation says.
func WritePhoto(w io.Writer, upright image.Image, quality int, tags Tags) error {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, stored(upright, tags.Orientation), &jpeg.Options{Quality: quality}); err != nil {
		return err
	}
	soi, rest := b.Bytes()[:2], b.Bytes()[2:]
	for _, part := range [][]byte{soi, tags.segment(), rest} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// stored undoes what EXIF's orientation asks of a viewer.
func stored(upright image.Image, orientation int) image.Image {
	switch orientation {
	case 2:
		return imaging.FlipH(upright)
	case 3:
		return imaging.Rotate180(upright)
	case 4:
		return imaging.FlipV(upright)
	case 5:
		return imaging.Transpose(upright)
	case 6: // shown by a quarter clockwise: stored anticlockwise
		return imaging.Rotate90(upright)
	case 7:
		return imaging.Transverse(upright)
	case 8:
		return imaging.Rotate270(upright)
	}
	return upright
}
