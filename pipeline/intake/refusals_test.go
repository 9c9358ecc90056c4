package intake_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/pipeline/container"
	"fieldjacket/pipeline/intake"
)

func TestRefusals(t *testing.T) {
	good := goodPhoto()
	scan := bytes.Index(good, []byte{0xFF, 0xDA})
	sized := func(width, height uint16) []byte {
		frame := binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16([]byte{8}, height), width)
		return append(append([]byte{0xFF, 0xD8}, segment(0xC0, append(frame, 1, 1, 0x11, 0))...), 0xFF, 0xDA, 0, 2)
	}
	cases := map[string]struct {
		file    string
		content []byte
		want    error
		says    string
	}{
		"text":               {"notes.txt", []byte("gridded at noon"), intake.ErrNotPhoto, "notes.txt: not a photo"},
		"video":              {"a.mp4", []byte("\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom"), intake.ErrNotPhoto, "not a photo"},
		"empty text":         {"notes.txt", nil, intake.ErrNotPhoto, "empty"},
		"mac's shadow":       {"._IMG_1.JPG", []byte("\x00\x05\x16\x07\x00\x02\x00\x00Mac OS X"), intake.ErrNotPhoto, "not a photo"},
		"empty photo":        {"a.JPG", nil, container.ErrDamaged, "damaged photo: "},
		"zeros for a photo":  {"a.jpg", make([]byte, 4096), container.ErrDamaged, "damaged photo: the file holds zeros where its picture should begin"},
		"a page for a photo": {"a.jpg", []byte("<!doctype html><title>log in</title>"), container.ErrDamaged, `damaged photo: the file holds text and no picture ("<!doctype html><`},
		"a spoilt start":     {"a.jpg", append([]byte{0xFF, 0xD8, 0xFE}, good[3:]...), container.ErrDamaged, "the first bytes of its picture are spoilt (FF D8, then FE"},
		"something else":     {"a.jpg", []byte{0, 0, 0, 1, 0x16, 0x67, 0x74, 0x79}, container.ErrDamaged, "the file does not begin as a picture does (0000000116677479 ...)"},
		"heic cut short":     {"a.jpg", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), container.ErrDamaged, "a.jpg: damaged photo: cut short"},
		"heic by its second": {"a.heic", []byte("\x00\x00\x00\x18ftypXXXX\x00\x00\x00\x00mif1heic"), container.ErrDamaged, "cut short"},
		"avif":               {"a.avif", []byte("\x00\x00\x00\x1cftypmif1\x00\x00\x00\x00mif1avif"), container.ErrUnsupported, "avif photo"},
		"png":                {"a.png", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR"), container.ErrDamaged, "cut short"},
		"webp":               {"a.webp", []byte("RIFF\x10\x00\x00\x00WEBPVP8 "), container.ErrDamaged, "cut short"},
		"raw":                {"a.CR2", []byte("II*\x00\x10\x00\x00\x00CR\x02\x00"), container.ErrUnsupported, "raw photo: not read yet by this version"},
		"start only":         {"a.jpg", good[:4], container.ErrDamaged, "ends before"},
		"cut in its exif":    {"a.jpg", good[:60], container.ErrDamaged, "cut short"},
		"cut at its scan":    {"a.jpg", good[:scan], container.ErrDamaged, "ends before"},
		"scan without size":  {"a.jpg", []byte{0xFF, 0xD8, 0xFF, 0xDA, 0, 2}, container.ErrDamaged, "damaged photo: some of its bytes are spoilt (no picture size before the picture)"},
		"end without scan":   {"a.jpg", []byte{0xFF, 0xD8, 0xFF, 0xD9}, container.ErrDamaged, "ends before"},
		"no width":           {"a.jpg", sized(0, 10), container.ErrDamaged, "0 x 10 px"},
		"length 1":           {"a.jpg", []byte{0xFF, 0xD8, 0xFF, 0xE0, 0, 1, 0, 0}, container.ErrDamaged, "length 1"},
		"no next segment":    {"a.jpg", append([]byte{0xFF, 0xD8, 0xFF, 0xE0, 0, 2}, make([]byte, 1<<20)...), container.ErrDamaged, "no JPEG segment at byte 6"},
		"endless segments":   {"a.jpg", append([]byte{0xFF, 0xD8}, bytes.Repeat([]byte{0xFF, 0xE0, 0, 2}, 1<<16)...), container.ErrDamaged, "segments"},
		"4 gigapixels":       {"a.jpg", sized(65535, 65535), intake.ErrTooLarge, "65535 x 65535 px, limit 250 million"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			photo, capture, err := intake.Read(saved(t, c.file, c.content), c.file, nil)
			if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) || !strings.HasPrefix(err.Error(), c.file+": ") {
				t.Errorf("error %q, want %q and %q", err, c.want, c.says)
			}
			if capture != nil || photo.File != c.file || photo.Bytes != int64(len(c.content)) {
				t.Errorf("photo %+v, capture %v", photo, capture)
			}
			if hashed := photo.SHA256 != ""; hashed != (c.want == container.ErrUnsupported) {
				t.Errorf("hash %q", photo.SHA256)
			}
		})
	}
}

func TestLimits(t *testing.T) {
	root := saved(t, "a.jpg", goodPhoto()) // 24 x 16 = 384 px
	for limits, want := range map[intake.Limits]error{
		{}: nil, {Pixels: 384}: nil, {Pixels: 383}: intake.ErrTooLarge, {Bytes: 100}: intake.ErrTooLarge,
	} {
		if _, _, err := intake.ReadWithin(root, "a.jpg", nil, limits); !errors.Is(err, want) {
			t.Errorf("%+v: %v, want %v", limits, err, want)
		}
	}
}

func TestPlacesThatAreNoFiles(t *testing.T) {
	root := saved(t, "a.jpg", goodPhoto())
	if err := os.Mkdir(filepath.Join(root, "folder.jpg"), 0o755); err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]error{
		"gone.jpg": fs.ErrNotExist, "folder.jpg": intake.ErrNotPhoto, "../a.jpg": fs.ErrInvalid, "/a.jpg": fs.ErrInvalid, "": fs.ErrInvalid,
	} {
		_, _, err := intake.Read(root, file, nil)
		if !errors.Is(err, want) || strings.Contains(err.Error(), root) {
			t.Errorf("%q: %v, want %v without the folder's path", file, err, want)
		}
	}
}
