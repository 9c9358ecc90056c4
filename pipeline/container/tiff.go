package container

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
)

// Tags of a TIFF's first directory (TIFF 6.0; DNGVersion from the DNG specification; XMP from its part 3) that say what the
// file is.
const (
	tagSubfileType  = 0xFE
	tagWidth        = 0x100
	tagHeight       = 0x101
	tagCompression  = 0x103
	tagPhotometric  = 0x106
	tagStripOffsets = 0x111
	tagStripBytes   = 0x117
	tagTileOffsets  = 0x144
	tagTileBytes    = 0x145
	tagXMP          = 0x2BC
	tagDNGVersion   = 0xC612
)

// compressions are those that a decoder is given: none, LZW, Deflate (two numbers), PackBits, and JPEG.
var compressions = []uint32{1, 5, 7, 8, 32946, 32773}

// A plainIFD is the first directory of a TIFF file.
type Directory struct {
	file    io.ReaderAt
	size    int64
	order   binary.ByteOrder
	entries []byte
}

// walkTIFF reads the first directory. The file itself is the EXIF block. Raw files that cameras write are TIFF too: they are
// told by what their first directory says and refused by name.
func walkTIFF(file io.ReaderAt, size int64) (Head, error) {
	var h Head
	d, _, err := DirectoryOf(file, size, 4)
	if err != nil {
		return h, err
	}
	h.WidthPx, h.HeightPx = int(d.Number(tagWidth, 0)), int(d.Number(tagHeight, 0))
	photometric, compression := d.Number(tagPhotometric, 2), d.Number(tagCompression, 1)
	const colourFilter, linearRaw, logLuv = 32803, 34892, 32844
	switch {
	case d.find(tagDNGVersion) != nil, d.Number(tagSubfileType, 0)&1 == 1, photometric == colourFilter, photometric == linearRaw:
		return h, ErrRaw
	case !slices.Contains(compressions, compression), photometric >= logLuv:
		return h, fmt.Errorf("this kind of tiff photo (compression %d, colours %d): %w", compression, photometric, ErrUnsupported)
	}
	if err := h.sized(); err != nil {
		return h, err
	}
	if err := d.whole(); err != nil {
		return h, err
	}
	h.EXIF = io.NewSectionReader(file, 0, size)
	if e := d.find(tagXMP); e != nil {
		if at, n := int64(d.order.Uint32(e[8:])), int64(d.order.Uint32(e[4:])); n > 4 && at+n <= size {
			var err error
			if h.XMP, err = packet(file, at, n); err != nil {
				return h, err
			}
		}
	}
	return h, nil
}

// DirectoryOf reads the directory to which the four bytes at pointer lead, and gives where the pointer to the next one lies.
func DirectoryOf(file io.ReaderAt, size, pointer int64) (d Directory, next int64, err error) {
	var lead [8]byte
	if err := ReadFull(file, lead[:], 0); err != nil {
		return d, 0, err
	}
	d = Directory{file: file, size: size, order: ByteOrder(lead[:])}
	if d.order == nil {
		return d, 0, fmt.Errorf("tiff photo with 64-bit offsets: %w", ErrUnsupported)
	}
	var leads [4]byte
	if err := ReadFull(file, leads[:], pointer); err != nil {
		return d, 0, err
	}
	at := int64(d.order.Uint32(leads[:]))
	var counted [2]byte
	if at < 8 || at+2 > size {
		return d, 0, ErrCutShort
	}
	if err := ReadFull(file, counted[:], at); err != nil {
		return d, 0, err
	}
	n := int64(d.order.Uint16(counted[:]))
	if at+2+12*n > size {
		return d, 0, ErrCutShort
	}
	d.entries = make([]byte, 12*n)
	return d, at + 2 + 12*n, ReadFull(file, d.entries, at+2)
}

// find returns the entry of a tag, nil: not there.
func (d *Directory) find(tag uint16) []byte {
	for e := d.entries; len(e) >= 12; e = e[12:] {
		if d.order.Uint16(e) == tag {
			return e[:12]
		}
	}
	return nil
}

// Number returns a single whole number; otherwise where the directory does not say it.
func (d *Directory) Number(tag uint16, otherwise uint32) uint32 {
	e := d.find(tag)
	switch {
	case e == nil || d.order.Uint32(e[4:]) != 1:
		return otherwise
	case d.order.Uint16(e[2:]) == TypeShort:
		return uint32(d.order.Uint16(e[8:]))
	case d.order.Uint16(e[2:]) == TypeLong:
		return d.order.Uint32(e[8:])
	}
	return otherwise
}

// whole fails where the last of the picture's strips or tiles lies beyond the file's end.
func (d *Directory) whole() error {
	offsets, lengths := d.last(tagStripOffsets), d.last(tagStripBytes)
	if offsets < 0 {
		offsets, lengths = d.last(tagTileOffsets), d.last(tagTileBytes)
	}
	if offsets < 0 || offsets+max(lengths, 0) > d.size {
		return ErrCutShort
	}
	return nil
}

// last returns the last of a tag's numbers, -1: none.
func (d *Directory) last(tag uint16) int64 {
	e := d.find(tag)
	if e == nil {
		return -1
	}
	each := TypeBytes[d.order.Uint16(e[2:])]
	n := each * int64(d.order.Uint32(e[4:]))
	value := e[8:12]
	if each != 2 && each != 4 || n == 0 {
		return -1
	}
	if n > 4 {
		at := int64(d.order.Uint32(value)) + n - each
		value = make([]byte, 4)
		if at+each > d.size || ReadFull(d.file, value[:each], at) != nil {
			return d.size + 1
		}
	} else {
		value = value[n-each:]
	}
	if each == 2 {
		return int64(d.order.Uint16(value))
	}
	return int64(d.order.Uint32(value))
}

// ByteOrder tells how numbers of a TIFF block with this head are written; nil: it is none.
func ByteOrder(head []byte) binary.ByteOrder {
	switch {
	case bytes.HasPrefix(head, []byte("II*\x00")):
		return binary.LittleEndian
	case bytes.HasPrefix(head, []byte("MM\x00*")):
		return binary.BigEndian
	}
	return nil
}
