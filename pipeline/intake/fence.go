package intake

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"fieldjacket/pipeline/container"
)

// Tags of IFD0 that lead to the other directories.
const (
	tagExifIFD = 0x8769
	tagGPSIFD  = 0x8825
)

// A validTag is a value that passed the checks of its field; one of the members is set, by its field's kind.
type validTag struct {
	text    string
	numbers []uint32 // rationals: numerator, denominator, ...
}

// A fence reads one EXIF block and trusts nothing in it.
type fence struct {
	block  *io.SectionReader
	order  binary.ByteOrder
	notes  notes
	values []*validTag // beside fields; nil: not there or not fit
	err    error       // of reading the file
}

// pass copies the valid tags of an EXIF block, which may be a whole TIFF file. Each entry of the three directories is
// looked at once and no offset is followed twice, so the time is bounded, whatever the block holds. A fault costs its own tag
// and is noted; a block of which nothing can be read gives no values and a note. An error is one of reading the file.
func pass(block *io.SectionReader) ([]*validTag, notes, error) {
	f := fence{block: block, values: make([]*validTag, len(fields))}
	head := f.at(0, 8)
	if head != nil {
		f.order = container.ByteOrder(head)
	}
	if f.order == nil {
		f.notes.add("the EXIF block does not begin as one and was not read")
		return f.values, f.notes, f.err
	}
	first := f.order.Uint32(head[4:])
	led := f.walk(ifd0, first)
	for _, in := range []directory{ifdExif, ifdGPS} {
		switch {
		case led[in] == 0:
		case led[in] == first || in == ifdGPS && led[in] == led[ifdExif]:
			f.notes.add("the EXIF directory " + directoryNames[in] + " points back at another one and was not read")
		default:
			f.walk(in, led[in])
		}
	}
	return f.values, f.notes, f.err
}

// at returns n bytes of the block, or nil where it does not hold them or the file cannot be read.
func (f *fence) at(from, n int64) []byte {
	if f.err != nil || from < 0 || from+n > f.block.Size() {
		return nil
	}
	into := make([]byte, n)
	if err := container.ReadFull(f.block, into, from); err != nil {
		f.err = err
		return nil
	}
	return into
}

// walk looks at each entry of the directory at an offset and returns where its entries lead; 0: nowhere.
func (f *fence) walk(in directory, at uint32) (led [directories]uint32) {
	name := directoryNames[in]
	start := int64(at)
	counted := f.at(start, 2)
	if start < 8 || counted == nil {
		f.notes.add("the EXIF directory " + name + " lies outside the block and was not read")
		return led
	}
	entries := int64(f.order.Uint16(counted))
	start += 2
	if fit := (f.block.Size() - start) / 12; entries > fit {
		f.notes.add(fmt.Sprintf("the EXIF directory %s claims %d entries and has room for %d", name, entries, fit))
		entries = fit
	}
	table := f.at(start, 12*entries)
	for ; len(table) >= 12; table = table[12:] {
		entry := table[:12]
		tag := f.order.Uint16(entry)
		switch {
		case in == ifd0 && tag == tagExifIFD:
			led[ifdExif] = f.pointer(ifdExif, entry)
		case in == ifd0 && tag == tagGPSIFD:
			led[ifdGPS] = f.pointer(ifdGPS, entry)
		default:
			f.take(fieldFor(in, tag), entry)
		}
	}
	return led
}

// pointer returns where an entry of IFD0 leads; 0: nowhere.
func (f *fence) pointer(to directory, entry []byte) uint32 {
	typ, count := f.order.Uint16(entry[2:]), f.order.Uint32(entry[4:])
	if typ != container.TypeLong && typ != container.TypeIFD || count != 1 {
		f.notes.add(fmt.Sprintf("the EXIF directory %s was not read: its pointer has field type %d and %d values", directoryNames[to], typ, count))
		return 0
	}
	return f.order.Uint32(entry[8:])
}

// take judges one entry of 12 bytes. The first entry of a tag counts.
func (f *fence) take(which int, entry []byte) {
	if which < 0 {
		return
	}
	want := fields[which]
	if f.values[which] != nil {
		f.notes.add(fmt.Sprintf("%s is there twice; the first was taken", want.name))
		return
	}
	typ, count := f.order.Uint16(entry[2:]), f.order.Uint32(entry[4:])
	if count == 0 && (want.kind == text || want.kind == date) {
		return // an empty text says nothing
	}
	raw, err := f.raw(typ, count, entry[8:])
	if err == nil {
		f.values[which], err = f.judge(want, typ, count, raw)
	}
	if err != nil {
		f.notes.add(fmt.Sprintf("%s was not read: %v", want.name, err))
	}
}

// maxValue is as much of a value as is read: more than any field of the table takes, as judge then says.
const maxValue = 1024

// raw returns the bytes of a value, which stand in the entry or elsewhere in the block.
func (f *fence) raw(typ uint16, count uint32, inline []byte) ([]byte, error) {
	each, ok := container.TypeBytes[typ]
	if !ok {
		return nil, fmt.Errorf("field type %d", typ)
	}
	n := each * int64(count) // 64 bit: cannot overflow
	if n <= 4 {
		return inline[:n], nil
	}
	at := int64(f.order.Uint32(inline))
	if at+n > f.block.Size() {
		return nil, fmt.Errorf("its %d bytes lie outside the block", n)
	}
	if raw := f.at(at, min(n, maxValue)); raw != nil {
		return raw, nil
	}
	return nil, fmt.Errorf("the file ends before it")
}

// judge converts a stored value to what its field wants, or says why it cannot be.
func (f *fence) judge(want field, typ uint16, count uint32, raw []byte) (*validTag, error) {
	wrongType := fmt.Errorf("field type %d", typ)
	switch want.kind {
	case text, date:
		if typ != container.TypeASCII && typ != container.TypeUTF8 {
			return nil, wrongType
		}
		if int64(count) > int64(want.count) {
			return nil, fmt.Errorf("%d bytes long, at most %d are read", count, want.count)
		}
		switch said := plain(raw, want.kind == date); {
		case said == "":
			return nil, nil
		case len(said) >= want.count: // no room for the closing NUL
			return nil, fmt.Errorf("%d bytes long without its end, at most %d are read", count, want.count)
		default:
			return &validTag{text: said}, nil
		}
	case small, octet, whole:
		if int64(count) != int64(want.count) {
			return nil, fmt.Errorf("%d values instead of %d", count, want.count)
		}
		var n uint32
		switch typ {
		case container.TypeByte:
			n = uint32(raw[0])
		case container.TypeShort:
			n = uint32(f.order.Uint16(raw))
		case container.TypeLong:
			n = f.order.Uint32(raw)
		default:
			return nil, wrongType
		}
		if limit := map[kind]uint32{small: 0xFFFF, octet: 0xFF, whole: math.MaxUint32}[want.kind]; n > limit {
			return nil, fmt.Errorf("its value is %d, the limit %d", n, limit)
		}
		return &validTag{numbers: []uint32{n}}, nil
	default: // rationals
		if typ != container.TypeRational && typ != container.TypeSRational {
			return nil, wrongType
		}
		if int64(count) != int64(want.count) {
			return nil, fmt.Errorf("%d values instead of %d", count, want.count)
		}
		return f.ratios(typ, raw)
	}
}

// ratios reads numerators and denominators.
func (f *fence) ratios(typ uint16, raw []byte) (*validTag, error) {
	var numbers []uint32
	for ; len(raw) >= 8; raw = raw[8:] {
		over, under := f.order.Uint32(raw), f.order.Uint32(raw[4:])
		if typ == container.TypeSRational && int32(over) < 0 && int32(under) < 0 {
			over, under = -over, -under
		}
		if under == 0 {
			return nil, fmt.Errorf("%d/0 is no number", over)
		}
		if typ == container.TypeSRational && (int32(over) < 0 || int32(under) < 0) {
			return nil, fmt.Errorf("%d/%d is negative", int32(over), int32(under))
		}
		numbers = append(numbers, over, under)
	}
	return &validTag{numbers: numbers}, nil
}
