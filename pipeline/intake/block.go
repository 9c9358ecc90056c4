package intake

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"github.com/rwcarlsen/goexif/exif"
	"github.com/rwcarlsen/goexif/tiff"

	"fieldjacket/pipeline/container"
)

// decode gives the valid tags to the EXIF library, as a clean block, and has it load also the fields it lacks. An
// error here is a fault of the fence, not of the photo.
func decode(values []*validTag) (*exif.Exif, error) {
	block := cleanBlock(values)
	x, err := exif.Decode(bytes.NewReader(block))
	if err != nil {
		return nil, fmt.Errorf("clean EXIF block: %w", err)
	}
	for in, pointer := range map[directory]exif.FieldName{ifdExif: exif.ExifIFDPointer, ifdGPS: exif.GPSInfoIFDPointer} {
		tag, err := x.Get(pointer)
		if err != nil {
			continue // no tag of that directory is valid
		}
		at, err := tag.Int64(0)
		if err != nil {
			return nil, fmt.Errorf("clean EXIF block: %w", err)
		}
		r := bytes.NewReader(block)
		r.Seek(at, 0)
		dir, _, err := tiff.DecodeDir(r, x.Tiff.Order)
		if err != nil {
			return nil, fmt.Errorf("clean EXIF block: %w", err)
		}
		x.LoadTags(dir, libraryLacks(in), false)
	}
	return x, nil
}

// cleanBlock writes the valid tags as a TIFF block: big-endian, each directory followed by its long values, no
// directory that would be empty but IFD0, and no other chained to it.
func cleanBlock(values []*validTag) []byte {
	var entries [directories][]entry
	for i, v := range values {
		if v != nil {
			entries[fields[i].in] = append(entries[fields[i].in], entryFor(fields[i], v))
		}
	}
	// The pointers have the largest tags of IFD0, so that they come last and keep the order that TIFF asks for.
	at := 8 + uint32(directoryBytes(entries[ifd0]))
	for _, sub := range []directory{ifdExif, ifdGPS} {
		if len(entries[sub]) > 0 {
			at += 12
		}
	}
	for sub, tag := range []uint16{ifdExif: tagExifIFD, ifdGPS: tagGPSIFD} {
		if n := len(entries[sub]); n > 0 && tag != 0 {
			entries[ifd0] = append(entries[ifd0], entry{tag, container.TypeLong, 1, binary.BigEndian.AppendUint32(nil, at)})
			at += uint32(directoryBytes(entries[sub]))
		}
	}
	block := append([]byte("MM\x00*"), 0, 0, 0, 8)
	for _, dir := range entries {
		if len(dir) > 0 || len(block) == 8 {
			block = appendDirectory(block, dir)
		}
	}
	return block
}

// An entry is one tag ready to be written.
type entry struct {
	tag, typ uint16
	count    uint32
	value    []byte
}

func entryFor(f field, v *validTag) entry {
	switch f.kind {
	case text, date:
		value := append([]byte(v.text), 0)
		return entry{f.tag, container.TypeASCII, uint32(len(value)), value}
	case octet:
		return entry{f.tag, container.TypeByte, 1, []byte{byte(v.numbers[0])}}
	case small:
		return entry{f.tag, container.TypeShort, 1, binary.BigEndian.AppendUint16(nil, uint16(v.numbers[0]))}
	case whole:
		return entry{f.tag, container.TypeLong, 1, binary.BigEndian.AppendUint32(nil, v.numbers[0])}
	default:
		var value []byte
		for _, n := range v.numbers {
			value = binary.BigEndian.AppendUint32(value, n)
		}
		return entry{f.tag, container.TypeRational, uint32(len(v.numbers) / 2), value}
	}
}

// directoryBytes is the length of what appendDirectory writes.
func directoryBytes(dir []entry) int {
	n := 2 + 12*len(dir) + 4
	for _, e := range dir {
		if len(e.value) > 4 {
			n += len(e.value) + len(e.value)%2
		}
	}
	return n
}

func appendDirectory(block []byte, dir []entry) []byte {
	long := uint32(len(block) + 2 + 12*len(dir) + 4) // where the next long value goes
	block = binary.BigEndian.AppendUint16(block, uint16(len(dir)))
	var values []byte
	for _, e := range dir {
		block = binary.BigEndian.AppendUint16(block, e.tag)
		block = binary.BigEndian.AppendUint16(block, e.typ)
		block = binary.BigEndian.AppendUint32(block, e.count)
		if len(e.value) <= 4 {
			block = append(block, append(bytes.Clone(e.value), 0, 0, 0, 0)[:4]...)
			continue
		}
		block = binary.BigEndian.AppendUint32(block, long+uint32(len(values)))
		values = append(values, e.value...)
		if len(e.value)%2 == 1 { // TIFF wants values on even offsets
			values = append(values, 0)
		}
	}
	block = binary.BigEndian.AppendUint32(block, 0) // no further directory
	return append(block, values...)
}
