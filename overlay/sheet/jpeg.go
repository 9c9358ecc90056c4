package sheet

import (
	"bytes"
	"errors"
	"fmt"
)

// The kinds of segment that a JPEG of our own making has, by ISO/IEC 10918-1 table B.1: APP0 (JFIF), APP2 (colour
// profile), APP14 (colour transform), and those that make up the picture.
const (
	markSOI  = 0xD8
	markEOI  = 0xD9
	markSOS  = 0xDA
	markAPP0 = 0xE0
	markAPPF = 0xEF
	markCOM  = 0xFE
)

// ErrCarries is the error of a JPEG that holds more than a picture.
var ErrCarries = errors.New("the JPEG carries more than a picture")

// plain tells whether a JPEG holds a picture, its resolution and its colour profile, and nothing that could name a place
// or a person: no EXIF, XMP, IPTC, comment, maker's block, or bytes behind its end.
func plain(jpeg []byte) error {
	if !bytes.HasPrefix(jpeg, []byte{0xFF, markSOI}) {
		return errors.New("not a JPEG")
	}
	at := 2
	for at+4 <= len(jpeg) {
		if jpeg[at] != 0xFF {
			return fmt.Errorf("not a JPEG: no segment at byte %d", at)
		}
		mark := jpeg[at+1]
		if mark == 0xFF { // fill
			at++
			continue
		}
		size := int(jpeg[at+2])<<8 | int(jpeg[at+3])
		if size < 2 || at+2+size > len(jpeg) {
			return fmt.Errorf("not a JPEG: the segment at byte %d runs past the end", at)
		}
		body := jpeg[at+4 : at+2+size]
		switch {
		case mark == markAPP0 && bytes.HasPrefix(body, []byte("JFIF\x00")) && noThumbnail(body):
		case mark == 0xE2 && bytes.HasPrefix(body, []byte("ICC_PROFILE\x00")):
		case mark == 0xEE && bytes.HasPrefix(body, []byte("Adobe")):
		case mark >= markAPP0 && mark <= markAPPF, mark == markCOM:
			return fmt.Errorf("%w: a segment FF%02X at byte %d; only pictures written by this program belong on a sheet", ErrCarries, mark, at)
		}
		at += 2 + size
		if mark != markSOS {
			continue
		}
		for at+1 < len(jpeg) && (jpeg[at] != 0xFF || jpeg[at+1] == 0 || jpeg[at+1] >= 0xD0 && jpeg[at+1] <= 0xD7) {
			at++
		}
		if at+1 < len(jpeg) && jpeg[at+1] == markEOI {
			if at+2 < len(jpeg) {
				return fmt.Errorf("%w: %d bytes behind its end", ErrCarries, len(jpeg)-at-2)
			}
			return nil
		}
	}
	return errors.New("not a JPEG: it has no end")
}

// noThumbnail tells whether a JFIF segment holds no small picture, whose sizes are its 13th and 14th bytes.
func noThumbnail(jfif []byte) bool { return len(jfif) == 14 && jfif[12] == 0 && jfif[13] == 0 }
