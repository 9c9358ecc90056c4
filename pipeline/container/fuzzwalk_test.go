package container

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"testing"
)

// mustBeBounded walks any bytes as a container and holds what any walk must be: few reads, a size in range, sane words.
func mustBeBounded(t *testing.T, format string, file []byte, reads int) {
	counted := &countedReads{Reader: bytes.NewReader(file)}
	h, err := Walks[format](counted, int64(len(file)))
	if counted.n > reads {
		t.Errorf("%d reads, at most %d", counted.n, reads)
	}
	if err != nil {
		return
	}
	if h.WidthPx < 1 || h.HeightPx < 1 {
		t.Errorf("%d x %d px", h.WidthPx, h.HeightPx)
	}
	if len(h.XMP) > maxXMP {
		t.Errorf("%d bytes of XMP", len(h.XMP))
	}
	if err := h.Coded.CheckWhole(); err != nil && !errors.Is(err, ErrDamaged) {
		t.Errorf("%v", err)
	}
}

// chunk is one chunk of a PNG.
func chunk(kind, body string) string {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return string(binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:])))
}

const someEXIF = "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"

func FuzzPNG(f *testing.F) {
	f.Add([]byte("\x89PNG\r\n\x1a\n" + chunk("IHDR", "\x00\x00\x00\x18\x00\x00\x00\x10\x08\x02\x00\x00\x00") + chunk("eXIf", someEXIF) +
		chunk("iTXt", "XML:com.adobe.xmp\x00\x00\x00\x00\x00<x:xmpmeta/>") + chunk("IDAT", "") + chunk("IEND", "")))
	f.Fuzz(func(t *testing.T, file []byte) { mustBeBounded(t, "png", file, 4*maxChunks) })
}

func FuzzWebP(f *testing.F) {
	body := "WEBPVP8X\x0a\x00\x00\x00\x0c\x00\x00\x00\x17\x00\x00\x0f\x00\x00VP8L\x0a\x00\x00\x00\x2f\x17\xc0\x03\x00\x00\x00\x00\x00\x00EXIF\x1a\x00\x00\x00" + someEXIF
	f.Add([]byte("RIFF" + string(binary.LittleEndian.AppendUint32(nil, uint32(len(body)))) + body))
	f.Fuzz(func(t *testing.T, file []byte) { mustBeBounded(t, "webp", file, 4*maxChunks) })
}

func FuzzTIFF(f *testing.F) {
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x04\x00\x00\x01\x03\x00\x01\x00\x00\x00\x18\x00\x00\x00\x01\x01\x03\x00\x01\x00\x00\x00\x10\x00\x00\x00" +
		"\x11\x01\x04\x00\x01\x00\x00\x00\x08\x00\x00\x00\x17\x01\x04\x00\x01\x00\x00\x00\x08\x00\x00\x00\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, file []byte) { mustBeBounded(t, "tiff", file, 4096) })
}

// boxOf is one box of the ISO base media file format.
func boxOf(kind, body string) string {
	return string(binary.BigEndian.AppendUint32(nil, uint32(len(body)+8))) + kind + body
}

// someHEIF has one picture of 24 x 16 px, a quarter turn, and EXIF in its description's store.
func someHEIF() string {
	n := func(bytes int, v uint64) string { return string(binary.BigEndian.AppendUint64(nil, v)[8-bytes:]) }
	item := func(id uint64, kind, rest string) string {
		return boxOf("infe", "\x02\x00\x00\x00"+n(2, id)+"\x00\x00"+kind+"\x00"+rest)
	}
	store := n(4, 6) + "Exif\x00\x00" + someEXIF
	meta := "\x00\x00\x00\x00" + boxOf("pitm", "\x00\x00\x00\x00"+n(2, 1)) +
		boxOf("iinf", "\x00\x00\x00\x00"+n(2, 2)+item(1, "hvc1", "")+item(2, "Exif", "")) +
		boxOf("iloc", "\x01\x00\x00\x00\x44\x00"+n(2, 2)+n(2, 1)+n(2, 0)+n(2, 0)+n(2, 1)+n(4, 0)+n(4, 8)+
			n(2, 2)+n(2, 1)+n(2, 0)+n(2, 1)+n(4, 0)+n(4, uint64(len(store)))) +
		boxOf("iref", "\x00\x00\x00\x00"+boxOf("cdsc", n(2, 2)+n(2, 1)+n(2, 1))) +
		boxOf("iprp", boxOf("ipco", boxOf("ispe", "\x00\x00\x00\x00"+n(4, 24)+n(4, 16))+boxOf("irot", "\x01"))+
			boxOf("ipma", "\x00\x00\x00\x00"+n(4, 1)+n(2, 1)+"\x02\x01\x82")) +
		boxOf("idat", store)
	return boxOf("ftyp", "heic\x00\x00\x00\x00mif1heic") + boxOf("mdat", "12345678") + boxOf("meta", meta)
}

// TestHEIFDescriptionBehindThePicture: metadata after the media data, a turn of the container's own, and EXIF in the
// description itself, whose orientation counts for nothing.
func TestHEIFDescriptionBehindThePicture(t *testing.T) {
	file := []byte(someHEIF())
	h, err := walkHEIF(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	if h.WidthPx != 16 || h.HeightPx != 24 || !h.Turned || h.EXIF == nil {
		t.Errorf("%d x %d px, turned %v, EXIF %v; want 16 x 24, turned, with EXIF", h.WidthPx, h.HeightPx, h.Turned, h.EXIF)
	}
	for cut := range len(file) {
		if _, err := walkHEIF(bytes.NewReader(file[:cut]), int64(cut)); err == nil {
			t.Errorf("cut at byte %d of %d and taken", cut, len(file))
		}
	}
}

func FuzzHEIF(f *testing.F) {
	f.Add([]byte(someHEIF()))
	f.Fuzz(func(t *testing.T, file []byte) { mustBeBounded(t, "heic", file, 4*maxBoxes) })
}

// FuzzJPEG gives any bytes for a file that begins as a JPEG.
func FuzzJPEG(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x16Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x00\x00\x00\x00\x00\xff\xc0\x00\x0b\x08\x00\x10\x00\x18\x01\x01\x11\x00\xff\xda\x00\x02"))
	f.Fuzz(func(t *testing.T, file []byte) {
		reads := &countedReads{Reader: bytes.NewReader(file)}
		head, err := walkJPEG(reads, int64(len(file)))
		if limit := 3*maxSegments + maxStray/strayAtATime + 8; reads.n > limit {
			t.Errorf("%d reads, at most %d", reads.n, limit)
		}
		if err != nil {
			return
		}
		if head.WidthPx < 1 || head.HeightPx < 1 || head.WidthPx > 65535 || head.HeightPx > 65535 {
			t.Errorf("%d x %d px", head.WidthPx, head.HeightPx)
		}
	})
}

// countedReads counts the reads, which bound the time of a walk.
type countedReads struct {
	*bytes.Reader
	n int
}

func (c *countedReads) ReadAt(into []byte, at int64) (int, error) {
	c.n++
	return c.Reader.ReadAt(into, at)
}
