package container

import (
	"encoding/binary"
	"io"
)

// maxBoxes bounds a walk over boxes. A phone's HEIC has some 60 tiles and as many boxes.
const maxBoxes = 1 << 16

// maxMeta is the longest description of its items that a HEIC may have. A phone's has some 10 KB.
const maxMeta = 4 << 20

// A box of the ISO base media file format (ISO/IEC 14496-12, 4.2), or what is left of one that is being read. Reading past the
// end gives zeros and sets short.
type box struct {
	kind  string
	body  []byte
	short bool
}

// next takes the next box out of the body; ok is false at its end and where a box claims more than there is.
func (b *box) next() (inner box, ok bool) {
	if len(b.body) < 8 {
		return box{}, false
	}
	n, lead := uint64(binary.BigEndian.Uint32(b.body)), uint64(8)
	if n == 1 && len(b.body) >= 16 {
		n, lead = binary.BigEndian.Uint64(b.body[8:]), 16
	}
	if n == 0 {
		n = uint64(len(b.body)) // up to the end
	}
	if n < lead || n > uint64(len(b.body)) {
		b.body, b.short = nil, true
		return box{}, false
	}
	inner = box{kind: string(b.body[4:8]), body: b.body[lead:n]}
	b.body = b.body[n:]
	return inner, true
}

// take cuts n bytes off the front, zeros where there are not so many.
func (b *box) take(n int) []byte {
	if n > len(b.body) {
		b.body, b.short = nil, true
		return make([]byte, n)
	}
	out := b.body[:n]
	b.body = b.body[n:]
	return out
}

// number reads a big-endian number of 0 to 8 bytes.
func (b *box) number(bytes int) (n uint64) {
	for _, digit := range b.take(bytes) {
		n = n<<8 | uint64(digit)
	}
	return n
}

// full reads the head of a full box.
func (b *box) full() (version byte, flags uint32) {
	n := b.number(4)
	return byte(n >> 24), uint32(n & 0xFFFFFF)
}

// id reads an item's number, of 2 bytes, or 4 where long.
func (b *box) id(long bool) uint32 {
	if long {
		return uint32(b.number(4))
	}
	return uint32(b.number(2))
}

// topBoxes goes over the outermost boxes of a file, in whatever order they stand, and returns the body of the one that
// describes the items, and whether the file holds a video beside it. A file cut short has a last box that claims more than there is.
func topBoxes(file io.ReaderAt, size int64) (meta box, video bool, err error) {
	cut, at := false, int64(0)
	for range maxBoxes {
		if at+8 > size {
			break
		}
		var lead [16]byte
		if err := ReadFull(file, lead[:8], at); err != nil {
			return meta, false, err
		}
		n, skip, kind := int64(binary.BigEndian.Uint32(lead[:])), int64(8), string(lead[4:8])
		switch n {
		case 0:
			n = size - at
		case 1:
			if at+16 > size {
				return meta, false, ErrCutShort
			}
			if err := ReadFull(file, lead[8:], at+8); err != nil {
				return meta, false, err
			}
			n, skip = int64(binary.BigEndian.Uint64(lead[8:])), 16
		}
		if n < skip {
			return meta, false, spoilt("its part %q at byte %d has length %d", kind, at, n)
		}
		if n > size-at {
			cut, n = true, size-at
		}
		switch kind {
		case "meta":
			if meta.body != nil || n-skip > maxMeta {
				return meta, false, spoilt("its description of %d bytes at byte %d is a second one or too long", n, at)
			}
			meta = box{kind: kind, body: make([]byte, n-skip)}
			if err := ReadFull(file, meta.body, at+skip); err != nil {
				return meta, false, err
			}
		case "moov", "mpvd": // a motion photo's video; mpvd is what some phones call it
			video = true
		}
		at += n
	}
	if cut || meta.body == nil {
		return meta, video, ErrCutShort
	}
	return meta, video, nil
}
