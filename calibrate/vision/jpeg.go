package vision

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
)

// withResolution sets the density in a JPEG's JFIF header (ITU-T T.871,
// section 10.1) and puts more segments behind it: a colour profile's, a comment.
func withResolution(jpeg []byte, dpi float64, segments []byte) ([]byte, error) {
	const head = 20 // SOI and the JFIF segment of 18 bytes
	if len(jpeg) < head || !bytes.Equal(jpeg[:4], []byte{0xff, 0xd8, 0xff, 0xe0}) || !bytes.Equal(jpeg[4:11], []byte("\x00\x10JFIF\x00")) {
		return nil, errors.New("the encoder wrote no JFIF header")
	}
	out := make([]byte, 0, len(jpeg)+len(segments))
	out = append(out, jpeg[:head]...)
	out[13] = 2 // dots per centimetre: finer than whole dots per inch
	perCm := uint16(max(1, min(65535, math.Round(dpi/2.54))))
	binary.BigEndian.PutUint16(out[14:], perCm)
	binary.BigEndian.PutUint16(out[16:], perCm)
	out = append(out, segments...)
	return append(out, jpeg[head:]...), nil
}

// colourProfile gives the whole APP2 segments of a JPEG that hold its ICC
// profile (ICC.1:2022, annex B.4), at most 4 MB; empty where there are none.
func colourProfile(file []byte) []byte {
	var out []byte
	for at := 2; at+4 <= len(file) && file[at] == 0xff; {
		marker, size := file[at+1], int(binary.BigEndian.Uint16(file[at+2:]))
		if marker == 0xff {
			at++ // a fill byte
			continue
		}
		if marker == 0xda || size < 2 || at+2+size > len(file) {
			break
		}
		if marker == 0xe2 && bytes.HasPrefix(file[at+4:], []byte("ICC_PROFILE\x00")) {
			out = append(out, file[at:at+2+size]...)
		}
		at += 2 + size
	}
	if len(out) > 4<<20 {
		return nil
	}
	return out
}
