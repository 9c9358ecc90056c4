package phonefile

import (
	"bytes"
	"encoding/binary"
	"math"
)

// Tags are what a phone writes into a photo (Exif 2.31, CIPA DC-008). A zero
// field is not written.
type Tags struct {
	Make, Model string
	Local       string // DateTimeOriginal, "2006:01:02 15:04:05"
	SubSec      string
	Offset      string // OffsetTimeOriginal, "-03:00"
	Position    *Fix
	Focal35Mm   int
	Orientation int // 1 to 8; how the stored pixels have to be turned
}

// A Fix is a position as a phone states it.
type Fix struct {
	LatDeg, LonDeg float64
	AltM, ErrM     float64
	BearingDeg     float64
	North          string // "T" or "M"
	Date, Time     string // UTC: "2006:01:02" and "15:04:05"
}

// value is one tag with its value as bytes.
type value struct {
	tag, typ uint16
	count    uint32
	raw      []byte
}

func ascii(tag uint16, text string) value {
	return value{tag, 2, uint32(len(text) + 1), append([]byte(text), 0)}
}

func short(tag uint16, n int) value {
	return value{tag, 3, 1, binary.BigEndian.AppendUint16(nil, uint16(n))}
}

func long(tag uint16, n uint32) value {
	return value{tag, 4, 1, binary.BigEndian.AppendUint32(nil, n)}
}

// rational writes numbers to a ten-thousandth.
func rational(tag uint16, numbers ...float64) value {
	var raw []byte
	for _, n := range numbers {
		raw = binary.BigEndian.AppendUint32(raw, uint32(math.Round(n*10000)))
		raw = binary.BigEndian.AppendUint32(raw, 10000)
	}
	return value{tag, 5, uint32(len(numbers)), raw}
}

// segment is the APP1 segment that holds the tags.
func (t Tags) segment() []byte {
	orientation := t.Orientation
	if orientation == 0 {
		orientation = 1
	}
	var main, exif []value
	if t.Make != "" {
		main = append(main, ascii(0x010f, t.Make), ascii(0x0110, t.Model))
	}
	main = append(main, short(0x0112, orientation))
	if t.Local != "" {
		exif = append(exif, ascii(0x9003, t.Local))
	}
	if t.Offset != "" {
		exif = append(exif, ascii(0x9011, t.Offset))
	}
	if t.SubSec != "" {
		exif = append(exif, ascii(0x9291, t.SubSec))
	}
	if t.Focal35Mm > 0 {
		exif = append(exif, short(0xa405, t.Focal35Mm))
	}
	gps := t.Position.values()
	if exif != nil {
		main = append(main, long(0x8769, 0))
	}
	if gps != nil {
		main = append(main, long(0x8825, 0))
	}
	// the two pointers are known once the first directory's length is
	at := uint32(8 + directoryBytes(main))
	exifBytes := 0
	if exif != nil {
		exifBytes = directoryBytes(exif)
	}
	if exif != nil {
		main[indexOf(main, 0x8769)].raw = binary.BigEndian.AppendUint32(nil, at)
	}
	if gps != nil {
		main[indexOf(main, 0x8825)].raw = binary.BigEndian.AppendUint32(nil, at+uint32(exifBytes))
	}
	var b bytes.Buffer
	b.WriteString("Exif\x00\x00MM\x00*\x00\x00\x00\x08")
	for _, dir := range [][]value{main, exif, gps} {
		if dir != nil {
			writeDirectory(&b, uint32(b.Len()-6), dir)
		}
	}
	out := []byte{0xff, 0xe1}
	out = binary.BigEndian.AppendUint16(out, uint16(b.Len()+2))
	return append(out, b.Bytes()...)
}

// values are the tags of the GPS directory.
func (f *Fix) values() []value {
	if f == nil {
		return nil
	}
	ref := func(v float64, positive, negative string) string {
		if v < 0 {
			return negative
		}
		return positive
	}
	var below byte // 1: below the sea
	if f.AltM < 0 {
		below = 1
	}
	out := []value{
		ascii(1, ref(f.LatDeg, "N", "S")), rational(2, sexagesimal(f.LatDeg)...),
		ascii(3, ref(f.LonDeg, "E", "W")), rational(4, sexagesimal(f.LonDeg)...),
		{5, 1, 1, []byte{below}}, rational(6, math.Abs(f.AltM)),
	}
	if f.Time != "" {
		out = append(out, rational(7, float64(clock(f.Time[:2])), float64(clock(f.Time[3:5])), float64(clock(f.Time[6:8]))))
	}
	if f.North != "" {
		out = append(out, ascii(0x10, f.North), rational(0x11, f.BearingDeg))
	}
	if f.Date != "" {
		out = append(out, ascii(0x1d, f.Date))
	}
	return append(out, rational(0x1f, f.ErrM))
}

func clock(two string) int { return int(two[0]-'0')*10 + int(two[1]-'0') }

// sexagesimal is an angle as degrees, minutes and seconds.
func sexagesimal(deg float64) []float64 {
	total := math.Round(math.Abs(deg)*36e6) / 1e4 // in seconds, to the last digit written
	d := math.Floor(total / 3600)
	m := math.Floor((total - d*3600) / 60)
	return []float64{d, m, total - d*3600 - m*60}
}

func indexOf(dir []value, tag uint16) int {
	for i, v := range dir {
		if v.tag == tag {
			return i
		}
	}
	return -1
}

func directoryBytes(dir []value) int {
	n := 2 + 12*len(dir) + 4
	for _, v := range dir {
		if len(v.raw) > 4 {
			n += len(v.raw) + len(v.raw)%2
		}
	}
	return n
}

// writeDirectory writes a directory that begins at the offset at, its long
// values behind it.
func writeDirectory(b *bytes.Buffer, at uint32, dir []value) {
	next := at + uint32(2+12*len(dir)+4)
	var long []byte
	_ = binary.Write(b, binary.BigEndian, uint16(len(dir)))
	for _, v := range dir {
		_ = binary.Write(b, binary.BigEndian, struct {
			Tag, Typ uint16
			Count    uint32
		}{v.tag, v.typ, v.count})
		if len(v.raw) <= 4 {
			b.Write(append(bytes.Clone(v.raw), 0, 0, 0, 0)[:4])
			continue
		}
		_ = binary.Write(b, binary.BigEndian, next+uint32(len(long)))
		long = append(long, v.raw...)
		if len(v.raw)%2 == 1 {
			long = append(long, 0)
		}
	}
	_ = binary.Write(b, binary.BigEndian, uint32(0))
	b.Write(long)
}
