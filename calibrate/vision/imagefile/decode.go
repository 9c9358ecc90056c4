//go:build cgo

package imagefile

import (
	"errors"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// ErrNotDecoded says that no picture could be made of the file.
var ErrNotDecoded = errors.New("its picture cannot be decoded: the file is damaged or cut short")

// ErrDamaged says that a picture can be made of the file, but not all that was
// photographed lies in it, or not at its place.
var ErrDamaged = errors.New("parts of its picture are lost or lie beside their place")

// Decode gives the picture as stored (BGR, 8 bit), which the caller closes, and
// its colour profile where a plate can carry it; nil: none. What the file says
// of its orientation is not applied, but a HEIC comes turned. A picture larger
// than the source's limit is refused, any other fault is [ErrNotDecoded] or
// [ErrDamaged].
func Decode(file []byte, s look.Source) (gocv.Mat, []byte, error) {
	raw, profile, err := decode(file, s)
	return raw, plateProfile(profile), err
}

func decode(file []byte, s look.Source) (gocv.Mat, []byte, error) {
	if s.Format == "heic" {
		return decodeHEIF(file, s.MaxPixels)
	}
	profile := colourProfile(file, s.Format)
	switch s.Format {
	case "png":
		if !wholePNG(file) {
			return gocv.Mat{}, nil, ErrDamaged
		}
	case "tiff":
		asStored(file)
	case "jpeg":
		w, h := s.WidthPx, s.HeightPx
		if s.Orientation >= 5 { // lies on its side
			w, h = h, w
		}
		raw, err := decodeJPEG(file, w, h)
		return raw, profile, err
	}
	raw, err := gocv.IMDecode(file, gocv.IMReadColor|gocv.IMReadIgnoreOrientation)
	if err != nil {
		return gocv.Mat{}, nil, ErrNotDecoded
	}
	if raw.Empty() || raw.Type() != gocv.MatTypeCV8UC3 {
		raw.Close()
		return gocv.Mat{}, nil, ErrNotDecoded
	}
	return raw, profile, nil
}
