package container

import (
	"bytes"
	"encoding/binary"
	"io"
)

// maxChunks bounds the walk over a PNG. Encoders write the picture in chunks of 8 KB and more.
const maxChunks = 1 << 16

// walkPNG goes from chunk to chunk up to the end (PNG, third edition, 5.3), since EXIF and XMP may stand behind the picture.
// It fails with ErrDamaged where the file ends before its closing chunk.
func walkPNG(file io.ReaderAt, size int64) (Head, error) {
	var h Head
	at := int64(8)
	for range maxChunks {
		var lead [8]byte
		if err := ReadFull(file, lead[:], at); err != nil {
			return h, err
		}
		n, kind, body := int64(binary.BigEndian.Uint32(lead[:])), string(lead[4:]), at+8
		if body+n+4 > size {
			return h, ErrCutShort
		}
		if (at == 8) != (kind == "IHDR") {
			return h, spoilt("a PNG begins with its size, this one at byte %d with %q", at, kind)
		}
		switch kind {
		case "IHDR":
			var sides [8]byte
			if n < 13 {
				return h, spoilt("PNG header of %d bytes", n)
			}
			if err := ReadFull(file, sides[:], body); err != nil {
				return h, err
			}
			h.WidthPx, h.HeightPx = int(binary.BigEndian.Uint32(sides[:])), int(binary.BigEndian.Uint32(sides[4:]))
		case "eXIf":
			if h.EXIF == nil {
				h.EXIF = block(file, body, n)
			}
		case "iTXt":
			if err := h.pngXMP(file, body, n); err != nil {
				return h, err
			}
		case "IEND":
			return h, h.sized()
		}
		at = body + n + 4 // and the check sum
	}
	return h, spoilt("more than %d chunks", maxChunks)
}

// pngXMP takes the packet of an iTXt chunk that holds one, uncompressed (XMP specification part 3, 1.1.5).
func (h *Head) pngXMP(file io.ReaderAt, body, n int64) error {
	intro := []byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00") // keyword, not compressed, no language, no translation
	if h.XMP != nil || n < int64(len(intro)) {
		return nil
	}
	got := make([]byte, len(intro))
	if err := ReadFull(file, got, body); err != nil || !bytes.Equal(got, intro) {
		return err
	}
	var err error
	h.XMP, err = packet(file, body+int64(len(intro)), n-int64(len(intro)))
	return err
}
