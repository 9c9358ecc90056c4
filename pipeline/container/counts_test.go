package container

import (
	"bytes"
	"encoding/binary"
	"errors"
	"slices"
	"testing"
)

// A tiffEntry is one of a TIFF directory (TIFF 6.0, section 2): tag, type, count and the four bytes of its value or of where that lies.
type tiffEntry struct {
	tag, kind uint16
	count     uint32
	value     []byte // nil: zero
}

// short and long are single numbers.
func short(tag, n uint16) tiffEntry {
	return tiffEntry{tag, TypeShort, 1, binary.LittleEndian.AppendUint16(nil, n)}
}
func long(tag uint16, n uint32) tiffEntry {
	return tiffEntry{tag, TypeLong, 1, binary.LittleEndian.AppendUint32(nil, n)}
}

// tiffOf is a TIFF file whose directory begins at byte 8; behind it stands rest.
func tiffOf(rest []byte, entries ...tiffEntry) []byte {
	b := []byte("II*\x00\x08\x00\x00\x00")
	b = binary.LittleEndian.AppendUint16(b, uint16(len(entries)))
	for _, e := range entries {
		b = binary.LittleEndian.AppendUint16(b, e.tag)
		b = binary.LittleEndian.AppendUint16(b, e.kind)
		b = binary.LittleEndian.AppendUint32(b, e.count)
		b = append(b, append(slices.Clone(e.value), 0, 0, 0, 0)[:4]...)
	}
	return append(b, rest...)
}

// behind is where rest stands in a file of n entries.
func behind(n int) uint32 { return uint32(10 + 12*n) }

// TestTIFFCounts: each number of a directory is used as it stands, to the byte: the last strip may end where the file ends, and no
// later.
func TestTIFFCounts(t *testing.T) {
	size := []tiffEntry{short(tagWidth, 640), long(tagHeight, 480)}
	with := func(more ...tiffEntry) []tiffEntry { return append(slices.Clone(size), more...) }
	le := func(n ...uint32) (b []byte) {
		for _, v := range n {
			b = binary.LittleEndian.AppendUint32(b, v)
		}
		return b
	}
	le16 := func(n ...uint16) (b []byte) {
		for _, v := range n {
			b = binary.LittleEndian.AppendUint16(b, v)
		}
		return b
	}
	pixels := make([]byte, 100)
	one := behind(4)
	three := behind(4) + 24 // two lists of three numbers before the pixels
	for name, c := range map[string]struct {
		file []byte
		want error // nil: it is whole
	}{
		"one strip to the end":            {tiffOf(pixels, with(long(tagStripOffsets, one), long(tagStripBytes, 100))...), nil},
		"one strip a byte too long":       {tiffOf(pixels, with(long(tagStripOffsets, one), long(tagStripBytes, 101))...), ErrCutShort},
		"its offset a byte too far":       {tiffOf(pixels, with(long(tagStripOffsets, one+1), long(tagStripBytes, 100))...), ErrCutShort},
		"short numbers":                   {tiffOf(pixels, with(short(tagStripOffsets, uint16(one)), short(tagStripBytes, 100))...), nil},
		"short numbers, too long":         {tiffOf(pixels, with(short(tagStripOffsets, uint16(one)), short(tagStripBytes, 101))...), ErrCutShort},
		"two short numbers in the entry":  {tiffOf(pixels, with(tiffEntry{tagStripOffsets, TypeShort, 2, le16(9000, uint16(one))}, tiffEntry{tagStripBytes, TypeShort, 2, le16(9000, 100)})...), nil},
		"two short numbers, too long":     {tiffOf(pixels, with(tiffEntry{tagStripOffsets, TypeShort, 2, le16(1, uint16(one))}, tiffEntry{tagStripBytes, TypeShort, 2, le16(1, 101)})...), ErrCutShort},
		"three strips":                    {tiffOf(append(le(0, 0, three, 0, 0, 100), pixels...), with(tiffEntry{tagStripOffsets, TypeLong, 3, le(one)}, tiffEntry{tagStripBytes, TypeLong, 3, le(one + 12)})...), nil},
		"the last of three too long":      {tiffOf(append(le(0, 0, three, 0, 0, 101), pixels...), with(tiffEntry{tagStripOffsets, TypeLong, 3, le(one)}, tiffEntry{tagStripBytes, TypeLong, 3, le(one + 12)})...), ErrCutShort},
		"three short numbers":             {tiffOf(append(le16(1, 1, uint16(one)+12, 1, 1, 100), pixels...), with(tiffEntry{tagStripOffsets, TypeShort, 3, le(one)}, tiffEntry{tagStripBytes, TypeShort, 3, le(one + 6)})...), nil},
		"three short numbers, too long":   {tiffOf(append(le16(1, 1, uint16(one)+12, 1, 1, 101), pixels...), with(tiffEntry{tagStripOffsets, TypeShort, 3, le(one)}, tiffEntry{tagStripBytes, TypeShort, 3, le(one + 6)})...), ErrCutShort},
		"a list that ends with the file":  {tiffOf(append(pixels, le(1, 1, one)...), with(tiffEntry{tagStripOffsets, TypeLong, 3, le(one + 100)}, long(tagStripBytes, 100))...), nil},
		"a list beyond the file":          {tiffOf(append(pixels, le(1, 1, one)...), with(tiffEntry{tagStripOffsets, TypeLong, 3, le(one + 101)}, long(tagStripBytes, 100))...), ErrCutShort},
		"tiles":                           {tiffOf(pixels, with(long(tagTileOffsets, one), long(tagTileBytes, 100))...), nil},
		"tiles, too long":                 {tiffOf(pixels, with(long(tagTileOffsets, one), long(tagTileBytes, 101))...), ErrCutShort},
		"strips count before tiles":       {tiffOf(pixels, append(size, long(tagStripOffsets, behind(6)), long(tagStripBytes, 100), long(tagTileOffsets, 9000), long(tagTileBytes, 9000))...), nil},
		"lengths not said":                {tiffOf(pixels, with(long(tagStripOffsets, behind(3)+100))...), nil},
		"lengths not said, beyond":        {tiffOf(pixels, with(long(tagStripOffsets, behind(3)+101))...), ErrCutShort},
		"no picture":                      {tiffOf(pixels, size...), ErrCutShort},
		"offsets of another kind":         {tiffOf(pixels, with(tiffEntry{tagStripOffsets, 1, 1, []byte{1}}, long(tagStripBytes, 1))...), ErrCutShort},
		"no offsets in the list":          {tiffOf(pixels, with(tiffEntry{tagStripOffsets, TypeLong, 0, le(one)}, long(tagStripBytes, 1))...), ErrCutShort},
		"an entry more than the file has": {tiffOf(nil, with(long(tagStripOffsets, 1), long(tagStripBytes, 1))...)[:10+12*4-1], ErrCutShort},
		"all entries, no more":            {tiffOf(nil, with(long(tagStripOffsets, 8), long(tagStripBytes, 2))...), nil},
		"a directory within the head":     {[]byte("II*\x00\x07\x00\x00\x00\x00\x00\x00\x00\x00\x00"), ErrCutShort},
		"a directory at the end":          {[]byte("II*\x00\x09\x00\x00\x00\x00\x00"), ErrCutShort},
	} {
		h, err := walkTIFF(bytes.NewReader(c.file), int64(len(c.file)))
		if !errors.Is(err, c.want) || c.want == nil && (h.WidthPx != 640 || h.HeightPx != 480) {
			t.Errorf("%s: %d x %d, %v, want %v", name, h.WidthPx, h.HeightPx, err, c.want)
		}
	}
	for name, c := range map[string]struct {
		more  tiffEntry
		want  error
		width int
	}{
		"raw by its colours":            {short(tagPhotometric, 32803), ErrRaw, 0},
		"linear raw":                    {short(tagPhotometric, 34892), ErrRaw, 0},
		"a reduced picture comes first": {long(tagSubfileType, 1), ErrRaw, 0},
		"a mask does not":               {long(tagSubfileType, 4), nil, 640},
		"a camera's own":                {tiffEntry{tagDNGVersion, 1, 4, []byte{1, 4, 0, 0}}, ErrRaw, 0},
		"LogLuv":                        {short(tagPhotometric, 32844), ErrUnsupported, 0},
		"a fax":                         {short(tagCompression, 4), ErrUnsupported, 0},
		"LZW":                           {short(tagCompression, 5), nil, 640},
		"two widths are none":           {tiffEntry{tagWidth, TypeShort, 2, []byte{1, 0, 1, 0}}, nil, 640}, // the first of a tag counts
	} {
		file := tiffOf(pixels, with(long(tagStripOffsets, behind(5)), long(tagStripBytes, 100), c.more)...)
		if h, err := walkTIFF(bytes.NewReader(file), int64(len(file))); !errors.Is(err, c.want) || c.want == nil && h.WidthPx != c.width {
			t.Errorf("%s: %d px, %v, want %v", name, h.WidthPx, err, c.want)
		}
	}
	// An XMP packet (XMP specification part 3, 2.2) is read where it lies within the file.
	packet := []byte("<x:xmpmeta/>")
	for at, want := range map[uint32]string{behind(5): string(packet), behind(5) + 1: ""} {
		file := tiffOf(packet, with(long(tagStripOffsets, 8), long(tagStripBytes, 2), tiffEntry{tagXMP, 1, uint32(len(packet)), le(at)})...)
		if h, err := walkTIFF(bytes.NewReader(file), int64(len(file))); err != nil || string(h.XMP) != want {
			t.Errorf("XMP at %d: %q, %v, want %q", at, h.XMP, err, want)
		}
	}
}

// webpOf is a WebP file of chunks: name, body, each filled up to an even length (RFC 9649, 2.3).
func webpOf(chunks ...string) []byte {
	body := []byte("WEBP")
	for i := 0; i < len(chunks); i += 2 {
		body = append(body, chunks[i]...)
		body = binary.LittleEndian.AppendUint32(body, uint32(len(chunks[i+1])))
		body = append(body, chunks[i+1]...)
		if len(chunks[i+1])%2 == 1 {
			body = append(body, 0)
		}
	}
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// TestWebPCounts: sizes and lengths of chunks are used as they stand, to the byte. A frame of 641 x 479 px by RFC 6386, 9.1, a
// lossless one by RFC 9649, 3.4, a canvas by RFC 9649, 2.7.1: 24 bits a side, less one.
func TestWebPCounts(t *testing.T) {
	frame := "\x10\x02\x00\x9d\x01\x2a\x81\x02\xdf\x01"  // 0x281 = 641, 0x1DF = 479
	scaled := "\x10\x02\x00\x9d\x01\x2a\x81\x42\xdf\xc1" // the same, to be scaled by its upper two bits
	lossless := "\x2f" + string(binary.LittleEndian.AppendUint32(nil, 640|478<<14|1<<28)) + "\x00\x00\x00\x00\x00"
	canvas := "\x08\x00\x00\x00\x00\x01\x01\x00\x00\x02" // 1 + 0x010100 = 65793, 1 + 0x020000 = 131073
	exif := "MM\x00*\x00\x00\x00\x08\x00\x00"
	for name, c := range map[string]struct {
		file  []byte
		w, h  int
		exif  int64
		xmp   string
		fails error
	}{
		"a frame":                        {webpOf("VP8 ", frame), 641, 479, 0, "", nil},
		"a frame that is scaled":         {webpOf("VP8 ", scaled), 641, 479, 0, "", nil},
		"a lossless one":                 {webpOf("VP8L", lossless), 641, 479, 0, "", nil},
		"a canvas counts":                {webpOf("VP8X", canvas, "VP8 ", frame), 65793, 131073, 0, "", nil},
		"odd chunks before":              {webpOf("ICCP", "abc", "VP8 ", frame), 641, 479, 0, "", nil},
		"EXIF and XMP behind":            {webpOf("VP8X", canvas, "VP8 ", frame+"x", "EXIF", exif, "XMP ", "<x/>"), 65793, 131073, 10, "<x/>", nil},
		"EXIF behind its word":           {webpOf("VP8 ", frame, "EXIF", "Exif\x00\x00"+exif), 641, 479, 10, "", nil},
		"the first EXIF counts":          {webpOf("VP8 ", frame, "EXIF", exif, "EXIF", "II*\x00", "XMP ", "<a/>", "XMP ", "<b/>"), 641, 479, 10, "<a/>", nil},
		"the first frame counts":         {webpOf("VP8 ", frame, "VP8L", "\x2f\x00\x00\x00\x00\x00\x00\x00\x00\x00"), 641, 479, 0, "", nil},
		"a last chunk of eight bytes":    {webpOf("VP8 ", frame, "ABCD", ""), 641, 479, 0, "", nil},
		"no picture":                     {webpOf("VP8X", canvas, "EXIF", exif), 0, 0, 0, "", ErrCutShort},
		"two canvases":                   {webpOf("VP8X", canvas, "VP8X", canvas, "VP8 ", frame), 0, 0, 0, "", ErrDamaged},
		"a canvas of nine bytes":         {webpOf("VP8X", canvas[:9], "VP8 ", frame), 0, 0, 0, "", ErrDamaged},
		"a frame of nine bytes":          {webpOf("VP8 ", frame[:9]), 0, 0, 0, "", ErrCutShort},
		"a frame without its start code": {webpOf("VP8 ", "\x10\x02\x00\x9d\x01\x2b\x81\x02\xdf\x01"), 0, 0, 0, "", ErrDamaged},
		"a start code's first byte":      {webpOf("VP8 ", "\x10\x02\x00\x9c\x01\x2a\x81\x02\xdf\x01"), 0, 0, 0, "", ErrDamaged},
		"a start code's second byte":     {webpOf("VP8 ", "\x10\x02\x00\x9d\x02\x2a\x81\x02\xdf\x01"), 0, 0, 0, "", ErrDamaged},
		"lossless without its signature": {webpOf("VP8L", "\x2e"+lossless[1:]), 0, 0, 0, "", ErrDamaged},
		"a frame called lossless":        {webpOf("VP8L", frame), 0, 0, 0, "", ErrDamaged},
		"a lossless one called a frame":  {webpOf("VP8 ", lossless), 0, 0, 0, "", ErrDamaged},
		"moving":                         {webpOf("VP8X", canvas, "ANMF", "x", "VP8 ", frame), 0, 0, 0, "", ErrUnsupported},
		"cut within its last chunk":      {webpOf("VP8 ", frame)[:25], 0, 0, 0, "", ErrCutShort},
		"a chunk longer than the file":   {append(append([]byte("RIFF\x16\x00\x00\x00WEBPVP8 \x0b\x00\x00\x00"), frame...), 0), 0, 0, 0, "", ErrCutShort},
		"something behind its end":       {append(webpOf("VP8 ", frame), "VP8X junk"...), 641, 479, 0, "", nil},
		"no area":                        {webpOf("VP8 ", "\x10\x02\x00\x9d\x01\x2a\x00\x00\xdf\x01"), 0, 0, 0, "", ErrDamaged},
	} {
		h, err := walkWebP(bytes.NewReader(c.file), int64(len(c.file)))
		if !errors.Is(err, c.fails) || err != nil && c.fails == nil {
			t.Errorf("%s: %v, want %v", name, err, c.fails)
			continue
		}
		if c.fails != nil {
			continue
		}
		have := int64(0)
		if h.EXIF != nil {
			have = h.EXIF.Size()
			got := make([]byte, have)
			if _, err := h.EXIF.ReadAt(got, 0); err != nil || string(got) != exif {
				t.Errorf("%s: EXIF is %q, %v", name, got, err)
			}
		}
		if h.WidthPx != c.w || h.HeightPx != c.h || have != c.exif || string(h.XMP) != c.xmp {
			t.Errorf("%s: %d x %d, %d bytes of EXIF, %q, want %d x %d, %d, %q", name, h.WidthPx, h.HeightPx, have, h.XMP, c.w, c.h, c.exif, c.xmp)
		}
	}
}
