package container

import (
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"
)

// segment is a JPEG segment (ITU-T T.81, B.1.1.4): its length counts its own two bytes.
func segment(marker byte, body string) string {
	return string([]byte{0xFF, marker}) + string(binary.BigEndian.AppendUint16(nil, uint16(len(body)+2))) + body
}

// TestJPEGSegments: lengths are used as they stand, to the byte; bytes that belong to no segment are passed over, 64 kB of them in all.
func TestJPEGSegments(t *testing.T) {
	const soi, eoi = "\xff\xd8", "\xff\xd9"
	frame := segment(0xC0, "\x08\x01\xdf\x02\x81\x01\x11\x00\x00") // 479 lines of 641 samples
	scan := segment(markerSOS, "\x01\x01\x00\x00\x3f\x00") + "data"
	stray := strings.Repeat("\x00", 3000)
	between := func(n int) string { // as many stray bytes before each of n segments
		return strings.Repeat(stray+segment(0xE5, "x"), n)
	}
	block := "MM\x00*\x00\x00\x00\x08\x00\x00"
	for name, c := range map[string]struct {
		file  string
		exif  string
		xmp   string
		also  string
		fails error
	}{
		"plain":                     {soi + frame + scan + eoi, "", "", "", nil},
		"fill bytes":                {soi + "\xff\xff\xff" + frame + scan + eoi, "", "", "", nil},
		"40 stray bytes":            {soi + frame + strings.Repeat("x", 40) + scan + eoi, "", "", "", nil},
		"60 kB of stray bytes":      {soi + between(20) + frame + scan + eoi, "", "", "", nil},
		"72 kB of stray bytes":      {soi + between(24) + frame + scan + eoi, "", "", "", ErrDamaged},
		"66 kB in one place":        {soi + strings.Repeat(stray, 24) + frame + scan + eoi, "", "", "", ErrDamaged},
		"marks that stand alone":    {soi + "\xff\x01\xff\xd0\xff\xd7" + frame + "\xff\xd8" + scan + eoi, "", "", "", nil},
		"EXIF":                      {soi + segment(markerAPP1, "Exif\x00\x00"+block) + frame + scan, block, "", "", nil},
		"EXIF behind the frame":     {soi + frame + segment(markerAPP1, "Exif\x00\xff"+block) + scan, block, "", "", nil},
		"EXIF in two segments":      {soi + segment(markerAPP1, "Exif\x00\x00"+block) + segment(markerAPP1, "Exif\x00\x00more") + frame + scan, block + "more", "", "", nil},
		"two whole blocks":          {soi + segment(markerAPP1, "Exif\x00\x00"+block) + segment(markerAPP1, "Exif\x00\x00II*\x00") + frame + scan, block, "", "", nil},
		"XMP":                       {soi + segment(markerAPP1, "http://ns.adobe.com/xap/1.0/\x00<x/>") + frame + scan, "", "<x/>", "", nil},
		"the first XMP":             {soi + segment(markerAPP1, "http://ns.adobe.com/xap/1.0/\x00<x/>") + segment(markerAPP1, "http://ns.adobe.com/xap/1.0/\x00<y/>") + frame + scan, "", "<x/>", "", nil},
		"more pictures":             {soi + segment(markerAPP2, "MPF\x00MM\x00*") + frame + scan, "", "", "more pictures", nil},
		"APP2 of three bytes":       {soi + segment(markerAPP2, "MPF") + frame + scan, "", "", "", nil},
		"the first frame":           {soi + frame + segment(0xC2, "\x08\x00\x01\x00\x01\x01\x11\x00\x00") + scan, "", "", "", nil},
		"tables are no frame":       {soi + segment(0xC4, "\x08\x00\x01\x00\x01\x01") + segment(0xC8, "\x08\x00\x01\x00\x01\x01") + segment(0xCC, "\x08\x00\x01\x00\x01\x01") + frame + scan, "", "", "", nil},
		"a frame of six bytes":      {soi + segment(0xCF, "\x08\x01\xdf\x02\x81\x01") + scan, "", "", "", nil},
		"a frame of five bytes":     {soi + segment(0xC0, "\x08\x01\xdf\x02\x81") + scan, "", "", "", ErrDamaged},
		"no frame":                  {soi + scan, "", "", "", ErrDamaged},
		"no area":                   {soi + segment(0xC0, "\x08\x00\x00\x02\x81\x01") + scan, "", "", "", ErrDamaged},
		"no scan":                   {soi + frame + eoi, "", "", "", ErrCutShort},
		"the file's end":            {soi + frame, "", "", "", ErrCutShort},
		"a scan's head to the end":  {soi + frame + segment(markerSOS, "\x01\x01\x00\x00\x3f\x00"), "", "", "", nil},
		"its head a byte too short": {(soi + frame + segment(markerSOS, "\x01\x01\x00\x00\x3f\x00"))[:len(soi)+len(frame)+9], "", "", "", ErrCutShort},
		"a length of two":           {soi + segment(0xE5, "") + frame + scan, "", "", "", nil},
		"a length of one":           {soi + "\xff\xe5\x00\x01" + frame + scan, "", "", "", ErrDamaged},
	} {
		h, err := walkJPEG(strings.NewReader(c.file), int64(len(c.file)))
		if !errors.Is(err, c.fails) || err != nil && c.fails == nil {
			t.Errorf("%s: %v, want %v", name, err, c.fails)
			continue
		}
		if c.fails != nil {
			continue
		}
		exif := ""
		if h.EXIF != nil {
			got := make([]byte, h.EXIF.Size())
			_, _ = h.EXIF.ReadAt(got, 0)
			exif = string(got)
		}
		if h.WidthPx != 641 || h.HeightPx != 479 || exif != c.exif || string(h.XMP) != c.xmp || h.Also != c.also {
			t.Errorf("%s: %d x %d, EXIF %q, XMP %q, %q", name, h.WidthPx, h.HeightPx, exif, h.XMP, h.Also)
		}
		if want := int64(strings.Index(c.file, "\x3f\x00") + 2); h.Scan != want {
			t.Errorf("%s: its scan begins at %d, want %d", name, h.Scan, want)
		}
	}
}

// TestBoxLengths (ISO/IEC 14496-12, 4.2): a length of 1 stands in the next eight bytes, one of 0 runs to the end.
func TestBoxLengths(t *testing.T) {
	meta := someHEIF()
	meta = meta[strings.Index(meta, "meta")-4:]
	long := func(kind, body string) string {
		return "\x00\x00\x00\x01" + kind + string(binary.BigEndian.AppendUint64(nil, uint64(len(body)+16))) + body
	}
	ftyp := boxOf("ftyp", "heic\x00\x00\x00\x00mif1heic")
	for name, c := range map[string]struct {
		file string
		ok   bool
	}{
		"before the picture":           {ftyp + meta + boxOf("mdat", "12345678"), true},
		"behind it":                    {ftyp + boxOf("mdat", "12345678") + meta, true},
		"behind a long box":            {ftyp + long("mdat", "12345678") + meta, true},
		"before a box to the end":      {ftyp + meta + "\x00\x00\x00\x00mdat1234", true},
		"a long description":           {ftyp + long("meta", meta[8:]), true},
		"a description to the end":     {ftyp + "\x00\x00\x00\x00" + meta[4:], true},
		"bytes at the end":             {ftyp + meta + "1234567", true},
		"behind a box to the end":      {ftyp + "\x00\x00\x00\x00mdat1234" + meta, false},
		"two descriptions":             {ftyp + meta + meta, false},
		"a length of seven":            {ftyp + meta + "\x00\x00\x00\x07free", false},
		"a length of eight":            {ftyp + meta + "\x00\x00\x00\x08free", true},
		"a long length of fifteen":     {ftyp + meta + "\x00\x00\x00\x01free\x00\x00\x00\x00\x00\x00\x00\x0f", false},
		"a long length of sixteen":     {ftyp + meta + "\x00\x00\x00\x01free\x00\x00\x00\x00\x00\x00\x00\x10", true},
		"a long length cut":            {ftyp + meta + "\x00\x00\x00\x01free\x00\x00\x00\x00\x00\x00\x00", false},
		"a last box longer than there": {ftyp + meta + "\x00\x00\x00\x09free", false},
	} {
		if _, err := walkHEIF(bytes.NewReader([]byte(c.file)), int64(len(c.file))); (err == nil) != c.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
	inner := func(body string) (kinds string) {
		b := box{body: []byte(body)}
		for {
			in, ok := b.next()
			if !ok {
				if b.short {
					kinds += "!"
				}
				return kinds
			}
			kinds += in.kind + "(" + string(in.body) + ")"
		}
	}
	for body, want := range map[string]string{
		boxOf("aaaa", "x") + boxOf("bbbb", ""): "aaaa(x)bbbb()", long("aaaa", "xy") + boxOf("bbbb", "z"): "aaaa(xy)bbbb(z)", "\x00\x00\x00\x00aaaaxyz": "aaaa(xyz)",
		"\x00\x00\x00\x0aaaaax": "!", "\x00\x00\x00\x07aaaax": "!", boxOf("aaaa", "x") + "1234567": "aaaa(x)", long("aaaa", "")[:16]: "aaaa()",
	} {
		if got := inner(body); got != want {
			t.Errorf("%q: %s, want %s", body, got, want)
		}
	}
}
