package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// ErrNotJPEG says that a file is no whole JPEG.
var ErrNotJPEG = errors.New("is no whole JPEG")

// Markers (ITU-T T.81, table B.1).
const (
	soi  = 0xd8
	eoi  = 0xd9
	sos  = 0xda
	app0 = 0xe0
	app1 = 0xe1
	app2 = 0xe2
	adob = 0xee
)

// PerInch is a picture's resolution where its file tells none.
const PerInch = 72

var iccName = []byte("ICC_PROFILE\x00")

// Clean is a JPEG with its picture, resolution and colour profile alone: no tags, thumbnails, comments, further pictures or bytes
// behind the end. perInch is its resolution.
func Clean(file []byte) (clean []byte, perInch int, err error) {
	var head, rest bytes.Buffer
	perInch = PerInch
	if len(file) < 4 || file[0] != 0xff || file[1] != soi {
		return nil, 0, ErrNotJPEG
	}
	for at := 2; ; {
		for at+1 < len(file) && file[at] == 0xff && file[at+1] == 0xff {
			at++
		}
		if at+1 >= len(file) || file[at] != 0xff {
			return nil, 0, fmt.Errorf("%w: no marker at byte %d", ErrNotJPEG, at)
		}
		marker := file[at+1]
		if marker == eoi {
			rest.Write([]byte{0xff, eoi})
			break
		}
		if at+4 > len(file) {
			return nil, 0, fmt.Errorf("%w: cut off at byte %d", ErrNotJPEG, at)
		}
		size := int(binary.BigEndian.Uint16(file[at+2:]))
		if size < 2 || at+2+size > len(file) {
			return nil, 0, fmt.Errorf("%w: a segment at byte %d goes beyond the end", ErrNotJPEG, at)
		}
		segment := file[at : at+2+size]
		at += len(segment)
		switch body := segment[4:]; {
		case marker == app0 && bytes.HasPrefix(body, []byte("JFIF\x00")) && len(body) >= 12:
			perInch = resolution(body)
		case marker == app2 && bytes.HasPrefix(body, iccName), pictorial(marker):
			rest.Write(segment)
		case marker == adob && bytes.HasPrefix(body, []byte("Adobe")) && len(body) >= 12: // says how colours are meant
			rest.Write(sized(adob, body[:12]))
		}
		if marker == sos {
			end := entropyEnd(file, at)
			rest.Write(file[at:end])
			at = end
		}
	}
	head.Write([]byte{0xff, soi})
	// JFIF 1.01 (ITU-T T.871, 10.1): units of an inch, no thumbnail
	head.Write(sized(app0, []byte{'J', 'F', 'I', 'F', 0, 1, 1, 1, byte(perInch >> 8), byte(perInch), byte(perInch >> 8), byte(perInch), 0, 0}))
	return append(head.Bytes(), rest.Bytes()...), perInch, nil
}

// pictorial tells whether a segment is needed to decode the picture: frames, tables, restarts, scans.
func pictorial(marker byte) bool {
	return marker >= 0xc0 && marker <= 0xcf || marker == 0xdb || marker == sos || marker == 0xdc || marker == 0xdd
}

// entropyEnd is where the coded data that begin at from end: at the next marker that is no restart.
func entropyEnd(file []byte, from int) int {
	for at := from; at+1 < len(file); at++ {
		if next := file[at+1]; file[at] == 0xff && next != 0 && next != 0xff && (next < 0xd0 || next > 0xd7) {
			return at
		}
	}
	return len(file)
}

// resolution is that of a JFIF segment in pixels per inch.
func resolution(body []byte) int {
	n := int(binary.BigEndian.Uint16(body[8:]))
	if body[7] == 2 { // per cm
		n = (n*254 + 50) / 100
	}
	if body[7] == 0 || n == 0 || n > 0xffff {
		return PerInch
	}
	return n
}

func sized(marker byte, body []byte) []byte {
	return append([]byte{0xff, marker, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
}

// Size is a JPEG's size in pixels, from its frame; zeros where it has none.
func Size(file []byte) (widthPx, heightPx int) {
	for at := 2; at+9 < len(file) && file[at] == 0xff; at += 2 + int(binary.BigEndian.Uint16(file[at+2:])) {
		if m := file[at+1]; m >= 0xc0 && m <= 0xcf && m != 0xc4 && m != 0xc8 && m != 0xcc {
			return int(binary.BigEndian.Uint16(file[at+7:])), int(binary.BigEndian.Uint16(file[at+5:]))
		}
	}
	return 0, 0
}
