package intake

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/pipeline/container"
)

// mustBeSane holds what any capture must be, whatever the bytes.
func mustBeSane(t *testing.T, h container.Head) {
	c, orientation, err := captureOf(h)
	if err != nil {
		t.Fatalf("the clean block was not read: %v", err)
	}
	if orientation < 1 || orientation > 8 {
		t.Errorf("orientation %d", orientation)
	}
	if p := c.Position; p != nil {
		in(t, "latitude", p.LatDeg, -90, 90)
		in(t, "longitude", p.LonDeg, -180, 180)
		if p.LatDeg == 0 && p.LonDeg == 0 {
			t.Error("a position at 0, 0")
		}
		if p.UncertaintyM != nil {
			in(t, "uncertainty", *p.UncertaintyM, math.SmallestNonzeroFloat64, math.MaxUint32)
		}
		if p.AltitudeM != nil {
			in(t, "altitude", *p.AltitudeM, -100_000, 100_000)
		}
	}
	if b := c.Bearing; b != nil {
		in(t, "bearing", b.Deg, 0, math.Nextafter(360, 0))
	}
	if c.OffsetMin != nil {
		in(t, "offset", float64(*c.OffsetMin), -720, 840)
	}
	text, err := json.Marshal(c) // fails on NaN and on years past 9999
	if err != nil || len(text) > 8<<10 || len(c.Notes) > maxNotes {
		t.Fatalf("%d bytes of JSON, %d notes: %v", len(text), len(c.Notes), err)
	}
	var back Capture
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if again, _ := json.Marshal(back); !bytes.Equal(again, text) {
		t.Errorf("JSON there and back: %s, was %s", again, text)
	}
}

func section(block []byte) *io.SectionReader {
	return io.NewSectionReader(bytes.NewReader(block), 0, int64(len(block)))
}

func in(t *testing.T, what string, x, low, high float64) {
	if !(x >= low && x <= high) {
		t.Errorf("%s %v, want %v to %v", what, x, low, high)
	}
}

// FuzzExifBlock gives any bytes for an EXIF block. A clean block must come through the fence as it is.
func FuzzExifBlock(f *testing.F) {
	f.Add([]byte("MM\x00*\x00\x00\x00\x08\x00\x00\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, block []byte) {
		if len(block) > 1<<16 { // more than a segment holds
			return
		}
		mustBeSane(t, container.Head{EXIF: section(block)})
		values, _, _ := pass(section(block))
		clean := cleanBlock(values)
		again, doubts, _ := pass(section(clean))
		if len(doubts) > 0 || !bytes.Equal(cleanBlock(again), clean) {
			t.Errorf("the clean block is not taken as clean: %q", doubts)
		}
	})
}

// FuzzPhoto: whatever a container holds, what is said of it is in range.
func FuzzPhoto(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x16Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x00\x00\x00\x00\x00\xff\xc0\x00\x0b\x08\x00\x10\x00\x18\x01\x01\x11\x00\xff\xda\x00\x02"))
	f.Fuzz(func(t *testing.T, file []byte) {
		walk, ok := container.Walks[container.FormatOf(file[:min(len(file), container.StartBytes)])]
		if !ok {
			return
		}
		if head, err := walk(bytes.NewReader(file), int64(len(file))); err == nil {
			mustBeSane(t, head)
		}
	})
}

// TestCleanBlockKeepsEveryValue writes any valid tags and reads them back, by the fence and by the EXIF library.
func TestCleanBlockKeepsEveryValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := make([]*validTag, len(fields))
		for i, f := range fields {
			if rapid.Bool().Draw(t, "absent") {
				continue
			}
			switch f.kind {
			case text, date:
				values[i] = &validTag{text: rapid.StringMatching(`[!-~]{1,7}`).Draw(t, string(f.name))}
			case octet:
				values[i] = &validTag{numbers: []uint32{rapid.Uint32Max(0xFF).Draw(t, string(f.name))}}
			case whole:
				values[i] = &validTag{numbers: []uint32{rapid.Uint32().Draw(t, string(f.name))}}
			case small:
				values[i] = &validTag{numbers: []uint32{rapid.Uint32Max(0xFFFF).Draw(t, string(f.name))}}
			case rationals:
				v := &validTag{}
				for range f.count {
					v.numbers = append(v.numbers, rapid.Uint32().Draw(t, string(f.name)), rapid.Uint32Min(1).Draw(t, "under"))
				}
				values[i] = v
			}
		}
		again, doubts, _ := pass(section(cleanBlock(values)))
		if len(doubts) > 0 {
			t.Fatalf("doubts on a clean block: %q", doubts)
		}
		x, err := decode(values)
		if err != nil {
			t.Fatal(err)
		}
		s := decodedTags{x: x}
		for i, f := range fields {
			want := values[i]
			if (want == nil) != (again[i] == nil) {
				t.Fatalf("%s: there %v, was %v", f.name, again[i] != nil, want != nil)
			}
			if want == nil {
				if _, err := x.Get(f.name); err == nil {
					t.Fatalf("%s: the library has what was never written", f.name)
				}
				continue
			}
			switch f.kind {
			case text, date:
				if got := s.text(f.name); got != want.text || again[i].text != want.text {
					t.Fatalf("%s: library %q, fence %q, want %q", f.name, got, again[i].text, want.text)
				}
			case octet, small, whole:
				if got, ok := s.whole(f.name); !ok || uint32(got) != want.numbers[0] || again[i].numbers[0] != want.numbers[0] {
					t.Fatalf("%s: library %d, fence %d, want %d", f.name, got, again[i].numbers[0], want.numbers[0])
				}
			default:
				for j, got := range s.numbers(f.name) {
					if over, under := want.numbers[2*j], want.numbers[2*j+1]; got != float64(over)/float64(under) {
						t.Fatalf("%s: library %g, want %d/%d", f.name, got, over, under)
					}
				}
				if len(s.numbers(f.name)) != f.count {
					t.Fatalf("%s: %d numbers, want %d", f.name, len(s.numbers(f.name)), f.count)
				}
			}
		}
	})
}

func FuzzXMP(f *testing.F) {
	f.Add([]byte(someXMP))
	f.Fuzz(func(t *testing.T, packet []byte) {
		if len(packet) < 1<<16 {
			mustBeSane(t, container.Head{XMP: packet, WidthPx: 24, HeightPx: 16})
		}
	})
}

const someXMP = `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` +
	`<rdf:Description xmlns:exif="http://ns.adobe.com/exif/1.0/" exif:GPSLatitude="30,15.507S" exif:GPSLongitude="99,45.265E">` +
	`<exif:DateTimeOriginal>2026-02-11T10:00:00.25+10:30</exif:DateTimeOriginal></rdf:Description></rdf:RDF></x:xmpmeta>`

// TestATurnOfTheContainerCountsAlone: the EXIF of a container that turns its picture itself says an orientation that nothing applies.
func TestATurnOfTheContainerCountsAlone(t *testing.T) {
	const turned = "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"
	for _, c := range []struct {
		shown bool
		want  int
	}{{true, 1}, {false, 6}} {
		h := container.Head{WidthPx: 16, HeightPx: 24, Shown: c.shown, Turned: c.shown, EXIF: section([]byte(turned))}
		if _, orientation, err := captureOf(h); err != nil || orientation != c.want {
			t.Errorf("turned by the container %v: orientation %d, %v, want %d", c.shown, orientation, err, c.want)
		}
	}
}
