package intake_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/pipeline/intake"
)

// reducedBy16 is a small JPEG to be put into others.
func reducedBy16(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 16, 12)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestThumbnailAsExiftoolWroteIt: in JPEG and TIFF, with the photo's own way up.
func TestThumbnailAsExiftoolWroteIt(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	want := reducedBy16(t)
	for name, content := range map[string][]byte{"plain.jpg": picture(), "thumb.jpg": want} {
		if err := os.WriteFile(in(name), content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	tool(t, "exiftool", "-q", "-m", "-EXIF:Orientation#=6", "-EXIF:Make=Quoll", "-ThumbnailImage<="+in("thumb.jpg"), "-o", in("with.jpg"), in("plain.jpg"))
	for name, c := range map[string]struct {
		want        []byte
		orientation int
	}{"with.jpg": {want, 6}, "plain.jpg": {nil, 0}} {
		content, err := os.ReadFile(in(name))
		if err != nil {
			t.Fatal(err)
		}
		got, orientation := intake.Thumbnail(bytes.NewReader(content), int64(len(content)))
		if !bytes.Equal(got, c.want) || orientation != c.orientation {
			t.Errorf("%s: %d bytes, orientation %d; want %d, %d", name, len(got), orientation, len(c.want), c.orientation)
		}
	}
}

// FuzzThumbnail: whatever the bytes, what is given is a JPEG's beginning and no
// longer than a segment.
func FuzzThumbnail(f *testing.F) {
	f.Add(picture())
	f.Add(picture(exifSegment(fieldPhone().block(binary.BigEndian))))
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x00\x00\x0e\x00\x00\x00\x02\x00\x01\x02\x04\x00\x01\x00\x00\x00\x2c\x00\x00\x00\x02\x02\x04\x00\x01\x00\x00\x00\x03\x00\x00\x00\xff\xd8\xff"))
	f.Fuzz(func(t *testing.T, content []byte) {
		got, orientation := intake.Thumbnail(bytes.NewReader(content), int64(len(content)))
		if got == nil {
			return
		}
		if len(got) > 64<<10 || !bytes.HasPrefix(got, []byte("\xff\xd8\xff")) || orientation < 1 || orientation > 8 {
			t.Errorf("%d bytes, orientation %d", len(got), orientation)
		}
	})
}
