package sheet

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Need begins a new page where there is no room, but never leaves an empty one behind.
func TestNeedLeavesNoEmptyPage(t *testing.T) {
	s := begin(A4)
	s.Need(9999)
	if n := s.pdf.PageCount(); n != 1 {
		t.Errorf("%d pages before anything stands on one", n)
	}
	s.Gap(10)
	s.Need(s.RoomMm())
	if n := s.pdf.PageCount(); n != 1 {
		t.Errorf("%d pages where there is just room", n)
	}
	s.Need(s.RoomMm() + 0.1)
	if n := s.pdf.PageCount(); n != 2 || s.RoomMm() != s.PageMm() {
		t.Errorf("%d pages where there is no room, %.1f of %.1f mm left", n, s.RoomMm(), s.PageMm())
	}
}

// What a JPEG may carry (ISO/IEC 10918-1, B.1): fill bytes before a segment and restart marks do no harm; whatever could name a place or
// a person, a small picture and bytes behind the end are refused, and so is what ends too early.
func TestWhatAJPEGMayCarry(t *testing.T) {
	const soi, eoi = "\xff\xd8", "\xff\xd9"
	jfif := "\xff\xe0\x00\x10JFIF\x00\x01\x01\x01\x00\x48\x00\x48\x00\x00"
	scan := "\xff\xda\x00\x03\x00data\xff\x00more\xff\xd0rest\xff\xd7end"
	for name, c := range map[string]struct {
		jpeg    string
		carries bool
		ok      bool
	}{
		"plain":                      {soi + jfif + scan + eoi, false, true},
		"fill bytes":                 {soi + "\xff\xff" + jfif + "\xff\xff\xff" + scan + eoi, false, true},
		"a colour profile":           {soi + "\xff\xe2\x00\x10ICC_PROFILE\x00\x01\x01" + scan + eoi, false, true},
		"Adobe's colours":            {soi + "\xff\xee\x00\x07Adobe" + scan + eoi, false, true},
		"two scans":                  {soi + jfif + scan + "\xff\xc4\x00\x02" + scan + eoi, false, true},
		"EXIF":                       {soi + "\xff\xe1\x00\x08Exif\x00\x00" + scan + eoi, true, false},
		"another APP2":               {soi + "\xff\xe2\x00\x06MPF\x00" + scan + eoi, true, false},
		"another APP14":              {soi + "\xff\xee\x00\x07adobe" + scan + eoi, true, false},
		"APP15":                      {soi + "\xff\xef\x00\x04ab" + scan + eoi, true, false},
		"a comment":                  {soi + "\xff\xfe\x00\x04hi" + scan + eoi, true, false},
		"a JFIF extension":           {soi + "\xff\xe0\x00\x07JFXX\x00" + scan + eoi, true, false},
		"a small picture, wide":      {soi + jfif[:16] + "\x01\x00" + scan + eoi, true, false},
		"a small picture, tall":      {soi + jfif[:16] + "\x00\x01" + scan + eoi, true, false},
		"a longer JFIF":              {soi + "\xff\xe0\x00\x11" + jfif[4:] + "\x00" + scan + eoi, true, false},
		"EXIF between scans":         {soi + jfif + scan + "\xff\xe1\x00\x08Exif\x00\x00" + scan + eoi, true, false},
		"a byte behind":              {soi + jfif + scan + eoi + "x", true, false},
		"no end":                     {soi + jfif + scan, false, false},
		"half an end":                {soi + jfif + scan + "\xff", false, false},
		"a segment past the end":     {soi + "\xff\xe0\x00\x11" + jfif[4:], false, false},
		"a segment of no length":     {soi + "\xff\xe0\x00\x01" + scan + eoi, false, false},
		"something between segments": {soi + "x" + jfif + scan + eoi, false, false},
		"no JPEG":                    {"\xff\xd9" + jfif + scan + eoi, false, false},
		"nothing":                    {"", false, false},
	} {
		if err := plain([]byte(c.jpeg)); (err == nil) != c.ok || errors.Is(err, ErrCarries) != c.carries {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A plate without a scale of its own, or at none, is not printed.
func TestPlatesWithoutScaleAreRefused(t *testing.T) {
	for _, c := range []struct {
		pxPerMm, n float64
		ok         bool
	}{{4, 1, true}, {0, 1, false}, {-4, 1, false}, {math.NaN(), 1, false}, {4, 0, false}, {4, -1, false}, {4, math.NaN(), false}, {math.Inf(1), 1, false}, {4, math.Inf(1), false}} {
		s := begin(A4)
		s.Plate(Plate{JPEG: picture(t, 400, 300), PxPerMm: c.pxPerMm, N: c.n})
		if (s.err == nil) != c.ok {
			t.Errorf("%g px/mm at 1:%g: %v", c.pxPerMm, c.n, s.err)
		}
	}
	s := begin(A4)
	if s.Plate(Plate{JPEG: picture(t, 4000, 3000), PxPerMm: 0.2, N: 1}); s.err == nil || !strings.Contains(s.err.Error(), "sheets of A4: print it at a smaller scale") {
		t.Errorf("20 by 15 m: %v", s.err)
	}
}
