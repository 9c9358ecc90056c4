package intake_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// A tag is one EXIF entry for a test photo, as the test wants it, right or wrong.
type tag struct {
	id, typ uint16
	count   uint32
	value   func(binary.AppendByteOrder) []byte
}

func ascii(id uint16, text string) tag {
	return raw(id, 2, uint32(len(text)+1), append([]byte(text), 0))
}

func raw(id, typ uint16, count uint32, value []byte) tag {
	return tag{id, typ, count, func(binary.AppendByteOrder) []byte { return value }}
}

func short(id uint16, n uint16) tag {
	return tag{id, 3, 1, func(o binary.AppendByteOrder) []byte { return o.AppendUint16(nil, n) }}
}

func octet(id uint16, n byte) tag { return raw(id, 1, 1, []byte{n}) }

// ratios takes numerator, denominator, numerator, ...
func ratios(id uint16, numbers ...uint32) tag {
	return tag{id, 5, uint32(len(numbers) / 2), func(o binary.AppendByteOrder) (value []byte) {
		for _, n := range numbers {
			value = o.AppendUint32(value, n)
		}
		return value
	}}
}

// tags are the directories of one test photo.
type tags struct{ ifd0, exif, gps []tag }

// block writes the directories one after the other, with pointers from IFD0, in the given byte order.
func (t tags) block(order binary.AppendByteOrder) []byte {
	head := []byte("MM\x00*\x00\x00\x00\x08")
	if order == binary.LittleEndian {
		head = []byte("II*\x00\x08\x00\x00\x00")
	}
	pointer := func(id uint16, to int) tag {
		return tag{id, 4, 1, func(o binary.AppendByteOrder) []byte { return o.AppendUint32(nil, uint32(to)) }}
	}
	ifd0 := t.ifd0
	exifAt := 8 + len(appendDir(nil, order, 8, ifd0)) + 24
	gpsAt := exifAt + len(appendDir(nil, order, exifAt, t.exif))
	ifd0 = append(append([]tag{}, ifd0...), pointer(0x8769, exifAt), pointer(0x8825, gpsAt))
	out := append(head, appendDir(nil, order, 8, ifd0)...)
	out = append(out, appendDir(nil, order, exifAt, t.exif)...)
	return append(out, appendDir(nil, order, gpsAt, t.gps)...)
}

func appendDir(out []byte, order binary.AppendByteOrder, at int, dir []tag) []byte {
	out = order.AppendUint16(out, uint16(len(dir)))
	long := at + 2 + 12*len(dir) + 4
	var values []byte
	for _, t := range dir {
		value := t.value(order)
		out = order.AppendUint16(out, t.id)
		out = order.AppendUint16(out, t.typ)
		out = order.AppendUint32(out, t.count)
		if len(value) <= 4 {
			out = append(out, append(bytes.Clone(value), 0, 0, 0, 0)[:4]...)
			continue
		}
		out = order.AppendUint32(out, uint32(long+len(values)))
		values = append(values, value...)
	}
	return append(order.AppendUint32(out, 0), values...)
}

// segment is one JPEG segment.
func segment(marker byte, body []byte) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xFF, marker}, uint16(len(body)+2)), body...)
}

func exifSegment(block []byte) []byte { return segment(0xE1, append([]byte("Exif\x00\x00"), block...)) }

func xmpSegment() []byte {
	return segment(0xE1, []byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta xmlns:x='adobe:ns:meta/'></x:xmpmeta>"))
}

// picture is a JPEG of 24 x 16 px with the segments after its start.
func picture(segments ...[]byte) []byte {
	img := image.NewGray(image.Rect(0, 0, 24, 16))
	for i := range img.Pix {
		img.Set(i%24, i/24, color.Gray{Y: uint8(i)})
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		panic(err)
	}
	return append(append([]byte{0xFF, 0xD8}, bytes.Join(segments, nil)...), out.Bytes()[2:]...)
}

// saved writes content under a file name into a fresh folder and returns the folder.
func saved(t testing.TB, name string, content []byte) (root string) {
	t.Helper()
	root = t.TempDir()
	if err := os.WriteFile(filepath.Join(root, name), content, 0o644); err != nil {
		t.Fatal(err)
	}
	return root
}

// fieldPhone is what a phone writes on a good day, in an invented desert.
func fieldPhone() tags {
	return tags{
		ifd0: []tag{ascii(0x10F, "Quoll"), ascii(0x110, "Field 4"), short(0x112, 6), ascii(0x131, "9.1"), ascii(0x132, "2026:02:11 10:00:00")},
		exif: []tag{ascii(0x9003, "2026:02:11 10:00:00"), ascii(0x9004, "2026:02:11 10:00:00"), ascii(0x9010, "+10:30"),
			ascii(0x9011, "+10:30"), ascii(0x9291, "25"), ratios(0xA404, 3, 2), short(0xA405, 26)},
		gps: []tag{ascii(1, "S"), ratios(2, 30, 1, 15, 1, 3042, 100), ascii(3, "E"), ratios(4, 99, 1, 45, 1, 159, 10),
			octet(5, 0), ratios(6, 2465, 10), ratios(7, 23, 1, 29, 1, 5875, 100), ascii(9, "A"), ascii(0x10, "M"), ratios(0x11, 12345, 100),
			ascii(0x12, "WGS-84"), ascii(0x1D, "2026:02:10"), ratios(0x1F, 48, 10)},
	}
}
