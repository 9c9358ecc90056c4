package review

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// scans is a JPEG with so many starts of a scan behind its picture, as a progressive one has passes.
func scans(t *testing.T, n int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		t.Fatal(err)
	}
	whole := b.Bytes()
	scan := whole[bytes.LastIndex(whole, []byte{0xff, 0xda}) : len(whole)-2]
	out := append(bytes.Clone(whole[:len(whole)-2]), bytes.Repeat(scan, n-1)...)
	return append(out, 0xff, 0xd9)
}

// TestDecodeIsBounded by the passes over a picture, by its declared size, and by whether anybody waits for it.
func TestDecodeIsBounded(t *testing.T) {
	gone, leave := context.WithCancel(t.Context())
	leave()
	tall := scans(t, 1)
	frame := bytes.Index(tall, []byte{0xff, 0xc0})
	copy(tall[frame+5:], []byte{40000 >> 8, 40000 & 0xff, 40000 >> 8, 40000 & 0xff})
	for name, c := range map[string]struct {
		file  []byte
		asked context.Context
		says  string
	}{
		"usual":        {scans(t, 1), t.Context(), ""},
		"many passes":  {scans(t, 101), t.Context(), "more than 100 passes"},
		"large":        {tall, t.Context(), "40000 x 40000 px: more than is decoded here"},
		"nobody waits": {scans(t, 1), gone, "context canceled"},
	} {
		_, err := stored(c.asked, bytes.NewReader(c.file))
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
	}
}

// TestTheVisionProgramMakesSmallPictures: where there is one, photos are not decoded in this process, whatever they are.
func TestTheVisionProgramMakesSmallPictures(t *testing.T) {
	dir := written(t, "ann/IMG_0001.JPG")
	ran(t, dir, "")
	s, err := New(dir, Options{Program: filepath.Join(dir, "no-such-program")})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.listen.Close() })
	h := s.Handler(t.Context())
	stateNow(t, s, h)
	if w := sent(h, s.own("GET", "/picture/"+keyOf("ann/IMG_0001.JPG")+"/small", "")); w.Code != http.StatusNotFound {
		t.Errorf("%d: made without the program that was named", w.Code)
	}
}

// TestNobodyWaitsForAPageThatHasGone: its requests leave the queue before a photo that takes long is done.
func TestNobodyWaitsForAPageThatHasGone(t *testing.T) {
	s, h := served(t, written(t, "ann/IMG_0001.JPG"))
	stateNow(t, s, h)
	if err := s.looking.take(t.Context()); err != nil { // a photo that takes long
		t.Fatal(err)
	}
	gone, leave := context.WithCancel(t.Context())
	leave()
	for _, path := range []string{"/picture/" + keyOf("ann/IMG_0001.JPG") + "/small", "/base/" + keyOf("ann/IMG_0001.JPG"), "/piece/" + keyOf("ann/IMG_0001.JPG") + "/0/0"} {
		if w := sent(h, s.own("GET", path, "").WithContext(gone)); w.Code == http.StatusOK {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	s.looking.give()
	if w := sent(h, s.own("GET", "/picture/"+keyOf("ann/IMG_0001.JPG")+"/small", "")); w.Code != http.StatusOK {
		t.Errorf("later: %d", w.Code)
	}
}

// TestPhotosOnAnotherDiskAreShown: photos/ may be a link, see the README; what is a link to a file elsewhere is no photo.
func TestPhotosOnAnotherDiskAreShown(t *testing.T) {
	dir, disk := written(t, "ann/IMG_0001.JPG"), t.TempDir()
	outside := filepath.Join(written(t, "ben/IMG_0009.JPG", "ann/IMG_0002.JPG"), "photos", "ann", "IMG_0002.JPG")
	if err := os.Rename(filepath.Join(dir, "photos"), filepath.Join(disk, "card")); err != nil {
		t.Fatal(err)
	}
	if os.Symlink(filepath.Join(disk, "card"), filepath.Join(dir, "photos")) != nil || os.Symlink(outside, filepath.Join(disk, "card", "ann", "IMG_0002.JPG")) != nil {
		t.Skip("no links here")
	}
	s, h := served(t, dir)
	stateNow(t, s, h)
	for file, want := range map[string]int{"ann/IMG_0001.JPG": 200, "ann/IMG_0002.JPG": 404} {
		for _, path := range []string{"/picture/" + keyOf(file) + "/original", "/picture/" + keyOf(file) + "/small", "/base/" + keyOf(file), "/piece/" + keyOf(file) + "/0/0"} {
			if w := sent(h, s.own("GET", path, "")); (w.Code == 200) != (want == 200) {
				t.Errorf("%s: %d, want %d", path, w.Code, want)
			}
		}
	}
}
