package container

import (
	"bufio"
	"bytes"
	"errors"
	"io"
)

// CodedPicture is what makes up a HEIC's main picture: its tiles, or the picture itself where it has none.
type CodedPicture struct {
	parts []codedPart
	most  int64 // so many bytes are looked at: tiles that name the same ones again and again are no picture
}

// A codedPart is the bytes of one tile, coded by HEVC.
type codedPart struct {
	item        uint32
	bytes       io.Reader
	lengthBytes int // of the number before each NAL unit
}

// coded finds the HEVC pictures that the main one is made of, over however many steps (dimg); those in other codings are left
// out, and thumbnails and masks are no part of it. It fails with ErrDamaged where the description's store ends before one does.
func (m *items) coded(file io.ReaderAt, size int64) (*CodedPicture, error) {
	picture := &CodedPicture{most: 4 * (size + int64(len(m.store)))}
	seen := map[uint32]bool{}
	for next := []uint32{m.primary}; len(next) > 0; {
		id := next[0]
		next = next[1:]
		it := m.all[id]
		if it == nil || seen[id] {
			continue
		}
		seen[id] = true
		next = append(next, it.madeOf...)
		n := m.lengthBytes(it)
		if it.kind != "hvc1" || it.method > 1 || n == 0 {
			continue
		}
		from, end := file, uint64(size)
		if it.method == 1 {
			from, end = bytes.NewReader(m.store), uint64(len(m.store))
		}
		var pieces []io.Reader
		for _, e := range it.extents {
			if e[0] > end || e[1] > end-e[0] {
				return nil, ErrCutShort
			}
			pieces = append(pieces, io.NewSectionReader(from, int64(e[0]), int64(e[1])))
		}
		picture.parts = append(picture.parts, codedPart{id, io.MultiReader(pieces...), n})
	}
	return picture, nil
}

// lengthBytes tells from an item's HEVC configuration (hvcC; ISO/IEC 14496-15, 8.3.3.1.2) how long the number before each NAL
// unit is; 0: it has no configuration.
func (m *items) lengthBytes(it *item) int {
	for _, i := range it.has {
		if i >= 1 && i <= len(m.properties) && m.properties[i-1].kind == "hvcC" && len(m.properties[i-1].body) > 21 {
			return 1 + int(m.properties[i-1].body[21]&3)
		}
	}
	return 0
}

// CheckWhole looks the picture's bytes through for what HEVC never writes. It fails with ErrDamaged.
func (c *CodedPicture) CheckWhole() error {
	if c == nil {
		return nil
	}
	left := &io.LimitedReader{N: c.most}
	in := bufio.NewReaderSize(nil, 64<<10)
	for _, part := range c.parts {
		left.R = part.bytes
		in.Reset(left)
		err := nalUnits(in, part.lengthBytes)
		if left.N <= 0 {
			return spoilt("the parts of its picture are longer than the file")
		}
		var fault nalFault
		if errors.As(err, &fault) {
			return spoilt("part %d of its picture: %s", part.item, string(fault))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// A nalFault is what contradicts the format in a stream of NAL units.
type nalFault string

func (f nalFault) Error() string { return string(f) }

// nalUnits reads NAL units, each behind its length, to the end: the lengths must lead there, the heads be such as there are, one
// unit at least hold a picture, and none what may not be in it (ITU-T H.265, 7.3.1 and 7.4.2).
func nalUnits(in *bufio.Reader, lengthBytes int) error {
	pictures := 0
	for {
		lead := make([]byte, lengthBytes, 4)
		switch _, err := io.ReadFull(in, lead); {
		case err == io.EOF && pictures > 0:
			return nil
		case err == io.EOF:
			return nalFault("no picture in it")
		case err == io.ErrUnexpectedEOF:
			return nalFault("bytes behind its last NAL unit")
		case err != nil:
			return err
		}
		n := (&box{body: lead}).number(lengthBytes)
		if n < 2 {
			return nalFault("a NAL unit without a head")
		}
		head, err := in.Peek(2)
		if err == io.EOF {
			return nalFault("ends within a NAL unit")
		}
		if err != nil {
			return err
		}
		picture, ok := nalHead(head[0], head[1])
		if !ok {
			return nalFault("a NAL unit with a head that there is not")
		}
		if picture {
			pictures++
		}
		if err := nalBody(in, n); err != nil {
			return err
		}
	}
}

// nalHead tells whether a NAL unit with this head holds a picture of the base layer, and whether there are such heads (H.265,
// 7.3.1.2, 7.4.2.2 and table 7-1): the first bit is 0, the last three are not, and the kind is not a reserved one.
func nalHead(a, b byte) (picture, ok bool) {
	kind, layer := a>>1&63, int(a&1)<<5|int(b>>3)
	reserved := kind >= 22 && kind <= 31 || kind >= 41 && kind <= 47
	return kind < 32 && layer == 0, a&0x80 == 0 && b&7 != 0 && !reserved
}

// nalBody reads the n bytes of a NAL unit. Nowhere in them does 00 00 stand before 00, 01 or 02, and 00 00 03 stands only before
// 00 to 03 or at the end: a coder puts that 03 there to keep the others away (H.265, 7.4.2.1, emulation_prevention_three_byte).
func nalBody(in *bufio.Reader, n uint64) error {
	zeros, kept := 0, false // the zeros just before; whether a 03 that keeps others away is
	for n > 0 {
		part, err := in.Peek(int(min(n, 4096)))
		if len(part) == 0 {
			if err == io.EOF {
				return nalFault("ends within a NAL unit")
			}
			return err
		}
		for _, b := range part {
			if kept && b > 3 || zeros >= 2 && b < 3 {
				return nalFault("bytes that no camera writes there, such as zeros")
			}
			kept = zeros >= 2 && b == 3
			if zeros++; b != 0 {
				zeros = 0
			}
		}
		n -= uint64(len(part))
		in.Discard(len(part))
	}
	return nil
}
