package imagefile

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
	density, unit := max(1, min(65535, math.Round(dpi/2.54))), byte(2) // dots per centimetre
	if inch := math.Round(dpi); inch >= 1 && inch <= 65535 && math.Abs(inch-dpi) < math.Abs(density*2.54-dpi) {
		density, unit = inch, 1 // dots per inch come nearer
	}
	out[13] = unit
	binary.BigEndian.PutUint16(out[14:], uint16(density))
	binary.BigEndian.PutUint16(out[16:], uint16(density))
	out = append(out, segments...)
	return append(out, jpeg[head:]...), nil
}

// profileSegments gives the APP2 segments of a JPEG that hold an ICC profile (ICC.1:2022, annex B.4).
func profileSegments(profile []byte) []byte {
	const most = 65535 - 2 - 14
	var out []byte
	parts := (len(profile) + most - 1) / most
	for i := range parts {
		part := profile[i*most : min(len(profile), (i+1)*most)]
		out = append(out, 0xff, 0xe2)
		out = binary.BigEndian.AppendUint16(out, uint16(2+14+len(part)))
		out = append(out, "ICC_PROFILE\x00"...)
		out = append(out, byte(i+1), byte(parts))
		out = append(out, part...)
	}
	return out
}
