package container

import (
	"bytes"
	"encoding/binary"
	"io"
)

// Bounds of the walk. A phone's photo has some 10 segments before its scan, one with a depth map in XMP some hundreds.
const (
	maxSegments  = 4096
	maxStray     = 64 << 10 // bytes between segments, which decoders pass over too
	strayAtATime = 4 << 10
	maxEXIF      = 1 << 20 // of a block in several segments
)

// JPEG markers (ITU-T T.81, table B.1) that the walk tells apart.
const (
	markerTEM  = 0x01
	markerRST0 = 0xD0
	markerSOI  = 0xD8
	MarkerEOI  = 0xD9
	markerSOS  = 0xDA
	markerAPP1 = 0xE1
	markerAPP2 = 0xE2
)

// walkJPEG goes from segment to segment up to the first scan and reads none but the frame header, EXIF and XMP, wherever
// these stand. Pictures behind the first (MPO, a gain map) and a video behind it are not gone into: the first is the main one.
// Offsets follow the declared lengths; nothing is searched for by its bytes. It fails with ErrDamaged where no decoder could go on:
// no frame, no scan, an empty picture.
func walkJPEG(r io.ReaderAt, size int64) (Head, error) {
	var h Head
	var exif []byte // nil: no such segment yet
	framed := false
	at, stray := int64(2), int64(0)
	for range maxSegments {
		marker, body, passed, err := nextMarker(r, at, maxStray-stray)
		if err != nil {
			return h, err
		}
		stray += passed
		if marker == markerTEM || marker >= markerRST0 && marker <= markerSOI { // stand alone
			at = body
			continue
		}
		if marker == MarkerEOI {
			return h, ErrCutShort
		}
		var length [2]byte
		if err := ReadFull(r, length[:], body); err != nil {
			return h, err
		}
		n := int64(binary.BigEndian.Uint16(length[:]))
		if body+n > size {
			return h, ErrCutShort
		}
		if n < 2 {
			return h, spoilt("segment FF%02X at byte %d has length %d", marker, body-2, n)
		}
		switch {
		case marker == markerSOS && framed:
			h.Scan = body + n
			if exif != nil {
				h.EXIF = io.NewSectionReader(bytes.NewReader(exif), 0, int64(len(exif)))
			}
			return h, nil
		case marker == markerSOS:
			return h, spoilt("no picture size before the picture")
		case isFrame(marker) && !framed:
			if err := h.jpegFrame(r, body+2, n-2); err != nil {
				return h, err
			}
			framed = true
		case marker == markerAPP1:
			if exif, err = h.app1(r, body+2, n-2, exif); err != nil {
				return h, err
			}
		case marker == markerAPP2:
			if err := h.app2(r, body+2, n-2); err != nil {
				return h, err
			}
		}
		at = body + n
	}
	return h, spoilt("more than %d segments before the picture", maxSegments)
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
			return 0, 0, 0, ErrCutShort
		}
		from += int64(n)
		if from-at > allowed {
			return 0, 0, 0, spoilt("no JPEG segment at byte %d", at)
		}
		chunk = make([]byte, strayAtATime)
	}
}

// isFrame reports whether marker is one of SOF0 to SOF15; DHT, JPG and DAC lie between them.
func isFrame(marker byte) bool {
	return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC
}

// jpegFrame reads the size in a frame header of n bytes (T.81 B.2.2).
func (h *Head) jpegFrame(r io.ReaderAt, at, n int64) error {
	frame := make([]byte, 6) // precision, lines, samples per line, components
	if n < int64(len(frame)) {
		return spoilt("frame header of %d bytes", n)
	}
	if err := ReadFull(r, frame, at); err != nil {
		return err
	}
	h.WidthPx, h.HeightPx = int(binary.BigEndian.Uint16(frame[3:])), int(binary.BigEndian.Uint16(frame[1:]))
	return h.sized()
}

// app1 takes what an APP1 segment of n bytes holds: XMP, or EXIF, which it returns behind what earlier segments held. The byte
// after "Exif\0" is padding and may be anything (Exif 2.2, 4.7.2). A block of over 64 KB goes on in the next segments, which
// then do not begin as one; a second whole block is left alone.
func (h *Head) app1(r io.ReaderAt, at, n int64, exif []byte) ([]byte, error) {
	const intro, xmp = "Exif\x00", "http://ns.adobe.com/xap/1.0/\x00"
	lead := make([]byte, min(n, int64(len(xmp))))
	if err := ReadFull(r, lead, at); err != nil {
		return exif, err
	}
	switch {
	case bytes.HasPrefix(lead, []byte(intro)) && len(lead) > len(intro):
		part := make([]byte, n-int64(len(intro)+1))
		if err := ReadFull(r, part, at+int64(len(intro)+1)); err != nil {
			return exif, err
		}
		if exif != nil && (ByteOrder(part) != nil || len(exif) > maxEXIF) {
			return exif, nil
		}
		return append(append([]byte{}, exif...), part...), nil
	case string(lead) == xmp && h.XMP == nil:
		var err error
		h.XMP, err = packet(r, at+int64(len(xmp)), n-int64(len(xmp)))
		return exif, err
	}
	return exif, nil
}

// app2 notes the index of a file that holds several pictures (CIPA DC-007, 5.1).
func (h *Head) app2(r io.ReaderAt, at, n int64) error {
	lead := make([]byte, 4)
	if n < 4 {
		return nil
	}
	if err := ReadFull(r, lead, at); err != nil {
		return err
	}
	if string(lead) == "MPF\x00" {
		h.Also = "more pictures"
	}
	return nil
}
