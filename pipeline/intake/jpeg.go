package intake

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
)

// Bounds of the walk. A phone's photo has some 10 segments before its scan, one with a depth map in XMP some hundreds.
const (
	maxSegments  = 4096
	maxStray     = 64 << 10 // bytes between segments, which decoders pass over too
	strayAtATime = 4 << 10
)

// JPEG markers (ITU-T T.81, table B.1) that the walk tells apart.
const (
	markerTEM  = 0x01
	markerRST0 = 0xD0
	markerSOI  = 0xD8
	markerEOI  = 0xD9
	markerSOS  = 0xDA
	markerAPP1 = 0xE1
)

// jpegHead is what the segments before the first scan tell.
type jpegHead struct {
	widthPx, heightPx int    // as stored
	exif              []byte // TIFF block of the first EXIF segment; nil: none
}

// walkJPEG goes from segment to segment up to the first scan and reads none but the frame header and EXIF, wherever
// these stand. Offsets follow the declared lengths; nothing is searched for by its bytes. It fails with ErrDamaged where
// no decoder could go on: no frame, no scan, an empty picture.
func walkJPEG(r io.ReaderAt, size int64) (jpegHead, error) {
	var head jpegHead
	framed := false
	at, stray := int64(2), int64(0)
	for range maxSegments {
		marker, body, passed, err := nextMarker(r, at, maxStray-stray)
		if err != nil {
			return head, err
		}
		stray += passed
		if marker == markerTEM || marker >= markerRST0 && marker <= markerSOI { // stand alone
			at = body
			continue
		}
		if marker == markerEOI {
			return head, fmt.Errorf("%w: the file ends before its picture begins", ErrDamaged)
		}
		var length [2]byte
		if err := readFull(r, length[:], body); err != nil {
			return head, err
		}
		n := int64(binary.BigEndian.Uint16(length[:]))
		if n < 2 || body+n > size {
			return head, fmt.Errorf("%w: segment FF%02X at byte %d has length %d, file %d bytes", ErrDamaged, marker, body-2, n, size)
		}
		switch {
		case marker == markerSOS && framed:
			return head, nil
		case marker == markerSOS:
			return head, fmt.Errorf("%w: no picture size before the picture", ErrDamaged)
		case isFrame(marker) && !framed:
			if head.widthPx, head.heightPx, err = frameSize(r, body+2, n-2); err != nil {
				return head, err
			}
			framed = true
		case marker == markerAPP1 && head.exif == nil:
			if head.exif, err = exifBlock(r, body+2, n-2); err != nil {
				return head, err
			}
		}
		at = body + n
	}
	return head, fmt.Errorf("%w: more than %d segments before the picture", ErrDamaged, maxSegments)
}

// nextMarker finds the marker at or after at. body is the offset after it, passed how many bytes belonged to no segment,
// which is at most allowed.
func nextMarker(r io.ReaderAt, at, allowed int64) (marker byte, body, passed int64, err error) {
	chunk := make([]byte, 16) // enough, unless there are stray or fill bytes
	from, afterFF := at, false
	for {
		n, err := r.ReadAt(chunk, from)
		for i, b := range chunk[:n] {
			switch {
			case b == 0xFF:
				afterFF = true
			case afterFF && b != 0:
				body := from + int64(i) + 1
				return b, body, body - at - 2, nil
			default:
				afterFF = false
			}
		}
		if err != nil && err != io.EOF {
			return 0, 0, 0, err
		}
		if n < len(chunk) {
			return 0, 0, 0, fmt.Errorf("%w: the file ends before its picture begins", ErrDamaged)
		}
		from += int64(n)
		if from-at > allowed {
			return 0, 0, 0, fmt.Errorf("%w: no JPEG segment at byte %d", ErrDamaged, at)
		}
		chunk = make([]byte, strayAtATime)
	}
}

// isFrame reports whether marker is one of SOF0 to SOF15; DHT, JPG and DAC lie between them.
func isFrame(marker byte) bool {
	return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC
}

// frameSize reads a frame header of n bytes (T.81 B.2.2).
func frameSize(r io.ReaderAt, at, n int64) (widthPx, heightPx int, err error) {
	frame := make([]byte, 6) // precision, lines, samples per line, components
	if n < int64(len(frame)) {
		return 0, 0, fmt.Errorf("%w: frame header of %d bytes", ErrDamaged, n)
	}
	if err := readFull(r, frame, at); err != nil {
		return 0, 0, err
	}
	heightPx = int(binary.BigEndian.Uint16(frame[1:]))
	widthPx = int(binary.BigEndian.Uint16(frame[3:]))
	if widthPx == 0 || heightPx == 0 {
		return 0, 0, fmt.Errorf("%w: declares %d x %d px", ErrDamaged, widthPx, heightPx)
	}
	return widthPx, heightPx, nil
}

// exifBlock returns the TIFF block of an APP1 segment of n bytes, or nil when it is another APP1, XMP for one. The byte
// after "Exif\0" is padding and may be anything (Exif 2.2, 4.7.2).
func exifBlock(r io.ReaderAt, at, n int64) ([]byte, error) {
	const intro = "Exif\x00"
	if n < int64(len(intro)+1) {
		return nil, nil
	}
	lead := make([]byte, len(intro)+1)
	if err := readFull(r, lead, at); err != nil || !bytes.HasPrefix(lead, []byte(intro)) {
		return nil, err
	}
	block := make([]byte, n-int64(len(lead)))
	return block, readFull(r, block, at+int64(len(lead)))
}

// readFull fills into from at, or says that the file is cut short.
func readFull(r io.ReaderAt, into []byte, at int64) error {
	n, err := r.ReadAt(into, at)
	if n == len(into) {
		return nil
	}
	if err == io.EOF {
		return fmt.Errorf("%w: the file ends before its picture begins", ErrDamaged)
	}
	return err
}
