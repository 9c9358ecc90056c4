package intake_test

import (
	"encoding/binary"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/intake"

	"github.com/google/go-cmp/cmp"
)

func capture(t testing.TB, phone tags) *intake.Capture {
	t.Helper()
	return captureOf(t, picture(exifSegment(phone.block(binary.BigEndian))))
}

func captureOf(t testing.TB, content []byte) *intake.Capture {
	t.Helper()
	_, c, err := intake.Read(saved(t, "a.jpg", content), "a.jpg", nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func ptr[T any](v T) *T { return &v }

// wantFieldPhone is fieldPhone by hand: 30 deg 15' 30.42" S, 99 deg 45' 15.9" E, taken at 10:00:00.25 ten and a half hours ahead of UTC.
func wantFieldPhone(t testing.TB) *intake.Capture {
	local, err := intake.ParseLocalTime("2026-02-11T10:00:00.25")
	if err != nil {
		t.Fatal(err)
	}
	return &intake.Capture{
		Local: &local, OffsetMin: ptr(630), GPSTimeUTC: ptr(time.Date(2026, 2, 10, 23, 29, 58, 750_000_000, time.UTC)),
		Position: &intake.Position{LatDeg: -(30 + 15/60.0 + 30.42/3600), LonDeg: 99 + 45/60.0 + 15.9/3600, Datum: "WGS-84",
			UncertaintyM: ptr(4.8), AltitudeM: ptr(246.5)},
		Bearing: &intake.Bearing{Deg: 123.45, North: intake.NorthMagnetic}, Focal35Mm: ptr(26.0), DigitalZoom: ptr(1.5),
		Make: "Quoll", Model: "Field 4", Software: "9.1",
	}
}

func TestGoodPhoneIsReadWhole(t *testing.T) {
	for name, order := range map[string]binary.AppendByteOrder{"big-endian": binary.BigEndian, "little-endian": binary.LittleEndian} {
		t.Run(name, func(t *testing.T) {
			got := captureOf(t, picture(xmpSegment(), exifSegment(fieldPhone().block(order))))
			if diff := cmp.Diff(wantFieldPhone(t), got); diff != "" {
				t.Error(diff)
			}
			at, ok := got.UTC()
			if want := time.Date(2026, 2, 10, 23, 30, 0, 250_000_000, time.UTC); !ok || !at.Equal(want) {
				t.Errorf("UTC %v, want %v", at, want)
			}
		})
	}
}

// TestBadTagCostsOnlyItself changes one tag of the good phone to something bad: that value must go, with a note where it
// was doubtful, and every other stay.
func TestBadTagCostsOnlyItself(t *testing.T) {
	type change = func(*tags)
	type loss = func(*intake.Capture)
	set := func(dir func(*tags) []tag, id uint16, to tag) change {
		return func(p *tags) {
			for i, old := range dir(p) {
				if old.id == id {
					dir(p)[i] = to
					return
				}
			}
			panic("no such tag in the good phone")
		}
	}
	inIFD0 := func(p *tags) []tag { return p.ifd0 }
	inExif := func(p *tags) []tag { return p.exif }
	inGPS := func(p *tags) []tag { return p.gps }
	noMake := func(c *intake.Capture) { c.Make = "" }
	noTime := func(c *intake.Capture) { c.Local, c.OffsetMin = nil, nil }
	noFraction := func(c *intake.Capture) { *c.Local, _ = intake.ParseLocalTime("2026-02-11T10:00:00") }
	noOffset := func(c *intake.Capture) { c.OffsetMin = nil }
	noGPSTime := func(c *intake.Capture) { c.GPSTimeUTC = nil }
	noPosition := func(c *intake.Capture) { c.Position = nil }
	noAltitude := func(c *intake.Capture) { c.Position.AltitudeM = nil }
	noError := func(c *intake.Capture) { c.Position.UncertaintyM = nil }
	noBearing := func(c *intake.Capture) { c.Bearing = nil }
	noFocal := func(c *intake.Capture) { c.Focal35Mm = nil }
	noZoom := func(c *intake.Capture) { c.DigitalZoom = nil }
	nothing := func(*intake.Capture) {}

	cases := map[string]struct {
		change change
		loss   loss
		note   string // a part of the one note; "": none
	}{
		"zero length":           {set(inIFD0, 0x10F, raw(0x10F, 2, 0, nil)), noMake, ""},
		"only blanks":           {set(inIFD0, 0x10F, ascii(0x10F, "   ")), noMake, ""},
		"unknown type":          {set(inIFD0, 0x10F, raw(0x10F, 200, 1, []byte("Q"))), noMake, "Make was not read: field type 200"},
		"number for text":       {set(inIFD0, 0x10F, short(0x10F, 7)), noMake, "Make was not read: field type 3"},
		"count of 4 billion":    {set(inIFD0, 0x10F, raw(0x10F, 2, 0xFFFFFFFF, make([]byte, 8))), noMake, "Make was not read: its 4294967295 bytes"},
		"count that overflows":  {set(inExif, 0xA405, raw(0xA405, 3, 0x80000001, []byte{0, 26})), noFocal, "lie outside the block"},
		"rationals overflow":    {set(inGPS, 6, raw(6, 5, 0x20000001, make([]byte, 8))), noAltitude, "lie outside the block"},
		"text too long":         {set(inIFD0, 0x10F, ascii(0x10F, strings.Repeat("x", 500))), noMake, "501 bytes long"},
		"utf-8 type":            {set(inIFD0, 0x10F, raw(0x10F, 129, 6, []byte("Quoll\x00"))), nothing, ""},
		"no closing nul":        {set(inIFD0, 0x10F, raw(0x10F, 2, 5, []byte("Quoll"))), nothing, ""},
		"there twice":           {func(p *tags) { p.ifd0 = append(p.ifd0, ascii(0x10F, "Emu")) }, nothing, "Make is there twice"},
		"orientation 9":         {set(inIFD0, 0x112, short(0x112, 9)), nothing, "Orientation is 9"},
		"no such day":           {set(inExif, 0x9003, ascii(0x9003, "2026:02:30 10:00:00")), noTime, "no such day"},
		"no such time":          {set(inExif, 0x9003, ascii(0x9003, "2026:02:11 24:00:00")), noTime, "no such time"},
		"time with words":       {set(inExif, 0x9003, ascii(0x9003, "11 Feb 2026 10:00")), noTime, "not of the form"},
		"time unknown":          {set(inExif, 0x9003, ascii(0x9003, "0000:00:00 00:00:00")), noTime, "no time of taking; DateTimeDigitized"},
		"time blank":            {set(inExif, 0x9003, ascii(0x9003, "    :  :     :  :  ")), noTime, "no time of taking; DateTimeDigitized"},
		"subsec with letters":   {set(inExif, 0x9291, ascii(0x9291, "2x")), noFraction, "SubSecTimeOriginal"},
		"offset unknown":        {func(p *tags) { p.exif[2], p.exif[3] = ascii(0x9010, "   :  "), ascii(0x9011, "   :  ") }, noOffset, ""},
		"offset 15 h":           {func(p *tags) { p.exif[2], p.exif[3] = ascii(0x9010, ""), ascii(0x9011, "+15:00") }, noOffset, "no zone"},
		"offset of DateTime":    {set(inExif, 0x9011, ascii(0x9011, "")), nothing, ""},
		"offset of an edit":     {func(p *tags) { p.ifd0[4] = ascii(0x132, "2026:03:01 20:15:00"); p.exif[3] = ascii(0x9011, "") }, noOffset, "OffsetTime was not used"},
		"focal length 0":        {set(inExif, 0xA405, short(0xA405, 0)), noFocal, ""},
		"focal length 1":        {set(inExif, 0xA405, short(0xA405, 1)), noFocal, "FocalLengthIn35mmFilm 1 was dropped: no lens from 8 to 1600 mm"},
		"focal length 65535":    {set(inExif, 0xA405, short(0xA405, 65535)), noFocal, "FocalLengthIn35mmFilm 65535 was dropped"},
		"focal length twice":    {set(inExif, 0xA405, raw(0xA405, 3, 2, []byte{0, 26, 0, 26})), noFocal, "2 values instead of 1"},
		"zoom not used":         {set(inExif, 0xA404, ratios(0xA404, 0, 1)), noZoom, ""},
		"zoom 0/0":              {set(inExif, 0xA404, ratios(0xA404, 0, 0)), noZoom, "DigitalZoomRatio was not read: 0/0"},
		"latitude 0/0":          {set(inGPS, 2, ratios(2, 30, 1, 0, 0, 0, 1)), noPosition, "GPSLatitude was not read: 0/0"},
		"latitude 91":           {set(inGPS, 2, ratios(2, 91, 1, 0, 1, 0, 1)), noPosition, "91 degrees, at most 90"},
		"longitude 180.1":       {set(inGPS, 4, ratios(4, 1801, 10, 0, 1, 0, 1)), noPosition, "180.1 degrees, at most 180"},
		"minutes 61":            {set(inGPS, 2, ratios(2, 30, 1, 61, 1, 0, 1)), noPosition, "GPSLatitude was dropped: 30 degrees 61 minutes"},
		"latitude negative":     {set(inGPS, 2, raw(2, 10, 3, append([]byte{0xFF, 0xFF, 0xFF, 0xE2, 0, 0, 0, 1}, make([]byte, 16)...))), noPosition, "-30/1 is negative"},
		"one rational":          {set(inGPS, 2, ratios(2, 30, 1)), noPosition, "1 values instead of 3"},
		"latitude as text":      {set(inGPS, 2, ascii(2, "30,15,30.42")), noPosition, "GPSLatitude was not read: field type 2"},
		"latitude without ref":  {set(inGPS, 1, ascii(1, "")), noPosition, "GPSLatitudeRef"},
		"latitude east":         {set(inGPS, 1, ascii(1, "E")), noPosition, "GPSLatitudeRef"},
		"null island":           {func(p *tags) { p.gps[1], p.gps[3] = ratios(2, 0, 1, 0, 1, 0, 1), ratios(4, 0, 1, 0, 1, 0, 1) }, noPosition, "0, 0 was dropped"},
		"altitude 0/0":          {set(inGPS, 6, ratios(6, 0, 0)), noAltitude, "GPSAltitude was not read: 0/0"},
		"altitude ref unsaid":   {set(inGPS, 5, raw(5, 1, 0, nil)), nothing, "GPSAltitudeRef"},
		"error 0":               {set(inGPS, 0x1F, ratios(0x1F, 0, 1)), noError, "GPSHPositioningError"},
		"void fix":              {set(inGPS, 9, ascii(9, "V")), nothing, "GPSStatus"},
		"direction 361":         {set(inGPS, 0x11, ratios(0x11, 361, 1)), noBearing, "GPSImgDirection was dropped: 361"},
		"direction ref unsaid":  {set(inGPS, 0x10, ascii(0x10, "")), func(c *intake.Capture) { c.Bearing.North = intake.NorthTrue }, "GPSImgDirectionRef is not said"},
		"direction ref unknown": {set(inGPS, 0x10, ascii(0x10, "G")), noBearing, "not T or M"},
		"gps day unreal":        {set(inGPS, 0x1D, ascii(0x1D, "1917:01:00")), noGPSTime, "GPSDateStamp"},
		"gps day with nuls":     {set(inGPS, 0x1D, raw(0x1D, 2, 11, []byte("2026\x0002\x0010\x00"))), nothing, ""},
		"gps day unsaid":        {set(inGPS, 0x1D, ascii(0x1D, "")), noGPSTime, "GPSTimeStamp was not used"},
		"gps hour 24":           {set(inGPS, 7, ratios(7, 24, 1, 0, 1, 0, 1)), noGPSTime, "no time of day"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			phone, want := fieldPhone(), wantFieldPhone(t)
			c.change(&phone)
			c.loss(want)
			got := capture(t, phone)
			said := strings.Join(got.Notes, "\n")
			if c.note == "" && said != "" || !strings.Contains(said, c.note) {
				t.Errorf("notes %q, want %q in them", got.Notes, c.note)
			}
			got.Notes = nil
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestLoopsEnd gives blocks whose pointers go in circles or astray.
func TestLoopsEnd(t *testing.T) {
	pointers := func(exif, gps uint32) []byte {
		block := []byte("MM\x00*\x00\x00\x00\x08\x00\x02")
		for id, to := range []uint32{0x8769: exif, 0x8825: gps} {
			if id == 0x8769 || id == 0x8825 {
				block = binary.BigEndian.AppendUint16(block, uint16(id))
				block = binary.BigEndian.AppendUint32(append(block, 0, 4, 0, 0, 0, 1), to)
			}
		}
		return append(block, 0, 0, 0, 8) // next directory: this one again
	}
	for name, block := range map[string][]byte{
		"Exif to IFD0":      pointers(8, 0),
		"GPS to IFD0":       pointers(0, 8),
		"both to the same":  pointers(20, 20),
		"into the header":   pointers(1, 7),
		"beyond the end":    pointers(0xFFFFFFFF, 0x7FFFFFFF),
		"no block":          nil,
		"half a header":     []byte("MM\x00*\x00"),
		"neither order":     []byte("XX\x00*\x00\x00\x00\x08\x00\x00"),
		"first at the end":  []byte("MM\x00*\x00\x00\x00\x0A\x00\x00"),
		"65535 entries":     append([]byte("MM\x00*\x00\x00\x00\x08\xFF\xFF"), make([]byte, 40)...),
		"directory cut off": []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x0F"),
	} {
		t.Run(name, func(t *testing.T) {
			c := captureOf(t, picture(exifSegment(block)))
			if !c.Stripped || len(c.Notes) < 2 {
				t.Errorf("stripped %v, notes %q: want a note on the block and one that asks for the original", c.Stripped, c.Notes)
			}
		})
	}
}

func TestNotesAreBounded(t *testing.T) {
	phone := fieldPhone()
	for range 500 {
		phone.ifd0 = append(phone.ifd0, raw(0x10F, 77, 1, nil))
	}
	c := capture(t, phone)
	if n := len(c.Notes); n != 12 || !strings.Contains(c.Notes[11], "further") {
		t.Errorf("%d notes, the last %q; want 12, the last saying that there are more", n, c.Notes[n-1])
	}
}

// TestCaptureJSON holds the form that records are kept in.
func TestCaptureJSON(t *testing.T) {
	text, err := json.Marshal(wantFieldPhone(t))
	if err != nil {
		t.Fatal(err)
	}
	const want = `{"local":"2026-02-11T10:00:00.25","offset_min":630,"gps_time_utc":"2026-02-10T23:29:58.75Z",` +
		`"position":{"lat_deg":-30.25845,"lon_deg":99.75441666666667,"datum":"WGS-84","uncertainty_m":4.8,"altitude_m":246.5},` +
		`"bearing":{"deg":123.45,"north":"magnetic"},"focal35_mm":26,"digital_zoom":1.5,"make":"Quoll","model":"Field 4","software":"9.1"}`
	if string(text) != want {
		t.Errorf("got  %s\nwant %s", text, want)
	}
	var back intake.Capture
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(wantFieldPhone(t), &back); diff != "" {
		t.Error(diff)
	}
}
