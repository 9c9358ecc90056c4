package intake_test

import (
	"encoding/binary"
	"strconv"
	"strings"
	"testing"

	"fieldjacket/pipeline/intake"
)

// xmpWith is an XMP segment with the given properties.
func xmpWith(properties string) []byte {
	return segment(0xE1, []byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta xmlns:x='adobe:ns:meta/'><rdf:RDF xmlns:rdf='http://www.w3.org/1999/02/22-rdf-syntax-ns#'>"+
		"<rdf:Description xmlns:exif='http://ns.adobe.com/exif/1.0/' xmlns:tiff='http://ns.adobe.com/tiff/1.0/' xmlns:GPano='http://ns.google.com/photos/1.0/panorama/'"+
		" xmlns:GCamera='http://ns.google.com/photos/1.0/camera/'>"+properties+"</rdf:Description></rdf:RDF></x:xmpmeta>"))
}

func long(id uint16, n uint32) tag {
	return tag{id, 4, 1, func(o binary.AppendByteOrder) []byte { return o.AppendUint32(nil, n) }}
}

// TestShapes: what makes a picture's geometry doubtful, of the test picture of 24 x 16 px.
func TestShapes(t *testing.T) {
	cases := map[string]struct {
		change  func(*tags)
		xmp     string
		kind    intake.ShapeKind // "": nothing against it
		why     string
		reduced float64
	}{
		"as taken":       {func(p *tags) { p.exif = append(p.exif, long(0xA002, 24), long(0xA003, 16)) }, "", "", "", 0},
		"turned":         {func(p *tags) { p.exif = append(p.exif, long(0xA002, 16), long(0xA003, 24)) }, "", "", "", 0},
		"reduced":        {func(p *tags) { p.exif = append(p.exif, long(0xA002, 2400), long(0xA003, 1600)) }, "", "", "", 100},
		"cropped":        {func(p *tags) { p.exif = append(p.exif, long(0xA002, 32), long(0xA003, 16)) }, "", intake.Cropped, "taken with 32 x 16 px", 0},
		"edited":         {func(p *tags) { p.ifd0[3] = ascii(0x131, "GIMP 2.10") }, "", intake.Cropped, `edited with "GIMP 2.10"`, 0},
		"ultra-wide":     {func(p *tags) { p.exif[6] = short(0xA405, 13) }, "", intake.UltraWide, "13 mm", 0},
		"by its lens":    {func(p *tags) { p.exif = append(p.exif, ascii(0xA434, "back Ultra Wide camera")) }, "", intake.UltraWide, "LensModel", 0},
		"portrait":       {func(p *tags) { p.exif = append(p.exif, short(0xA401, 8)) }, "", intake.Portrait, "CustomRendered is 8", 0},
		"panorama":       {func(p *tags) { p.exif = append(p.exif, short(0xA401, 6)) }, "", intake.Panorama, "CustomRendered is 6", 0},
		"XMP panorama":   {func(*tags) {}, "<GPano:ProjectionType>cylindrical</GPano:ProjectionType>", intake.Panorama, "cylindrical", 0},
		"hdr as usual":   {func(p *tags) { p.exif = append(p.exif, short(0xA401, 1)) }, "", "", "", 0},
		"weightiest one": {func(p *tags) { p.exif[6] = short(0xA405, 13) }, "<GPano:ProjectionType>cylindrical</GPano:ProjectionType>", intake.Panorama, "", 0},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			phone := fieldPhone()
			c.change(&phone)
			got := captureOf(t, picture(exifSegment(phone.block(binary.BigEndian)), xmpWith(c.xmp)))
			var kind intake.ShapeKind
			why := ""
			if got.Shape != nil {
				kind, why = got.Shape.Kind, got.Shape.Why
			}
			if kind != c.kind || !strings.Contains(why, c.why) || got.ReducedBy != c.reduced {
				t.Errorf("%q (%s), reduced %g times; want %q (%s), %g", kind, why, got.ReducedBy, c.kind, c.why, c.reduced)
			}
		})
	}
}

// TestXMPFillsWhatEXIFIsSilentAbout, whole groups only, and what it says badly costs itself.
func TestXMPFillsWhatEXIFIsSilentAbout(t *testing.T) {
	place := "<exif:GPSLatitude>30,15.507S</exif:GPSLatitude><exif:GPSLongitude>99,45,15.9E</exif:GPSLongitude>"
	bare := func(*tags) {}
	cases := map[string]struct {
		exif func(*tags)
		xmp  string
		want string // of the position
		note string
	}{
		"no exif":               {func(p *tags) { *p = tags{} }, place, "-30.25845 99.75442", ""},
		"exif counts":           {bare, "<exif:GPSLatitude>1,0.0N</exif:GPSLatitude><exif:GPSLongitude>2,0.0E</exif:GPSLongitude>", "-30.25845 99.75442", ""},
		"half of exif's":        {func(p *tags) { p.gps = p.gps[:2] }, place, "none", "half a position"},
		"no such form":          {func(p *tags) { p.gps = nil }, "<exif:GPSLatitude>-30.2</exif:GPSLatitude>", "none", `GPSLatitude of the XMP packet was not read: "-30.2"`},
		"too far north":         {func(p *tags) { p.gps = nil }, "<exif:GPSLatitude>91,0.0N</exif:GPSLatitude><exif:GPSLongitude>2,0.0E</exif:GPSLongitude>", "none", "91 degrees, at most 90"},
		"a list for a place":    {func(p *tags) { p.gps = nil }, "<exif:GPSLatitude><rdf:Seq><rdf:li>30,15.507S</rdf:li></rdf:Seq></exif:GPSLatitude>", "none", ""},
		"spoilt after it":       {func(p *tags) { p.gps = nil }, place + "<exif:GPSAltitude>12", "-30.25845 99.75442", ""},
		"ratio with nothing":    {func(p *tags) { p.gps = nil }, place + "<exif:GPSAltitude>12/0</exif:GPSAltitude>", "-30.25845 99.75442", `"12/0" is no ratio`},
		"time with no month 13": {func(p *tags) { p.exif, p.ifd0 = nil, p.ifd0[:4] }, "<exif:DateTimeOriginal>2026-13-11T10:00</exif:DateTimeOriginal>", "-30.25845 99.75442", "no such day"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			phone := fieldPhone()
			c.exif(&phone)
			got := captureOf(t, picture(exifSegment(phone.block(binary.BigEndian)), xmpWith(c.xmp)))
			position := "none"
			if p := got.Position; p != nil {
				position = strings.TrimSpace(strings.Join([]string{trim(p.LatDeg), trim(p.LonDeg)}, " "))
			}
			if said := strings.Join(got.Notes, "\n"); position != c.want || !strings.Contains(said, c.note) {
				t.Errorf("%s, notes %q; want %s, %q", position, got.Notes, c.want, c.note)
			}
		})
	}
}

// TestMotionPhotoIsItsPicture: a video behind the picture, or more pictures, are named and not read.
func TestMotionPhotoIsItsPicture(t *testing.T) {
	phone := exifSegment(fieldPhone().block(binary.BigEndian))
	motion := append(picture(phone, xmpWith("<GCamera:MotionPhoto>1</GCamera:MotionPhoto>")), "\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom"...)
	if got := captureOf(t, motion); got.Also != "a video" || got.Make != "Quoll" {
		t.Errorf("also %q, make %q", got.Also, got.Make)
	}
	several := append(picture(phone, segment(0xE2, []byte("MPF\x00MM\x00*\x00\x00\x00\x08\x00\x00"))), picture()...)
	if got := captureOf(t, several); got.Also != "more pictures" || got.Make != "Quoll" {
		t.Errorf("also %q, make %q", got.Also, got.Make)
	}
}

// trim writes degrees to five places, a metre.
func trim(deg float64) string { return strconv.FormatFloat(deg, 'f', 5, 64) }
