package container

import (
	"encoding/binary"
	"fmt"
	"io"
)

// walkWebP goes over the chunks of a RIFF file (WebP container specification; RFC 9649, section 2).
func walkWebP(file io.ReaderAt, size int64) (Head, error) {
	var h Head
	var lead [12]byte
	if err := ReadFull(file, lead[:], 0); err != nil {
		return h, err
	}
	end := 8 + int64(binary.LittleEndian.Uint32(lead[4:]))
	if end > size {
		return h, ErrCutShort
	}
	picture := false
	at := int64(12)
	for range maxChunks {
		if at+8 > end {
			break
		}
		var chunk [8]byte
		if err := ReadFull(file, chunk[:], at); err != nil {
			return h, err
		}
		kind, n, body := string(chunk[:4]), int64(binary.LittleEndian.Uint32(chunk[4:])), at+8
		if body+n > end {
			return h, ErrCutShort
		}
		var err error
		switch kind {
		case "VP8X":
			err = h.canvas(file, body, n)
		case "VP8 ", "VP8L":
			if !picture && h.WidthPx == 0 {
				err = h.frame(file, body, n, kind == "VP8L")
			}
			picture = true
		case "ANMF":
			return h, fmt.Errorf("moving webp picture: %w", ErrUnsupported)
		case "EXIF":
			if h.EXIF == nil {
				h.EXIF = block(file, body, n)
			}
		case "XMP ":
			if h.XMP == nil {
				h.XMP, err = packet(file, body, n)
			}
		}
		if err != nil {
			return h, err
		}
		at = body + n + n%2
	}
	if !picture {
		return h, ErrCutShort
	}
	return h, h.sized()
}

// canvas reads the size in a VP8X chunk: 24 bits a side, less one.
func (h *Head) canvas(file io.ReaderAt, at, n int64) error {
	var b [10]byte
	if n < 10 || h.WidthPx != 0 {
		return spoilt("WebP header of %d bytes", n)
	}
	err := ReadFull(file, b[:], at)
	h.WidthPx = 1 + (int(b[4]) | int(b[5])<<8 | int(b[6])<<16)
	h.HeightPx = 1 + (int(b[7]) | int(b[8])<<8 | int(b[9])<<16)
	return err
}

// frame reads the size of a key frame: 14 bits a side behind its start code (RFC 6386, 9.1), or of a lossless picture: 14 bits
// a side, less one, behind its signature (RFC 9649, 3.4).
func (h *Head) frame(file io.ReaderAt, at, n int64, lossless bool) error {
	var b [10]byte
	if n < 10 {
		return ErrCutShort
	}
	if err := ReadFull(file, b[:], at); err != nil {
		return err
	}
	switch {
	case lossless && b[0] == 0x2F:
		bits := binary.LittleEndian.Uint32(b[1:])
		h.WidthPx, h.HeightPx = 1+int(bits&0x3FFF), 1+int(bits>>14&0x3FFF)
	case !lossless && b[3] == 0x9D && b[4] == 0x01 && b[5] == 0x2A:
		h.WidthPx = int(binary.LittleEndian.Uint16(b[6:]) & 0x3FFF)
		h.HeightPx = int(binary.LittleEndian.Uint16(b[8:]) & 0x3FFF)
	default:
		return spoilt("its WebP picture does not begin as one")
	}
	return nil
}
