package review

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestPicturesOfPhotosNotYetLookedAt are made small and upright.
func TestPicturesOfPhotosNotYetLookedAt(t *testing.T) {
	s, h := served(t, written(t, "ann/IMG_0001.JPG"))
	stateNow(t, s, h)
	w := sent(h, s.own("GET", "/picture/"+keyOf("ann/IMG_0001.JPG")+"/small", ""))
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "image/jpeg" || w.Body.Len() < 500 {
		t.Errorf("%d, %s, %d bytes", w.Code, w.Header().Get("Content-Type"), w.Body.Len())
	}
}

// TestSmallPictureIsThePhonesOwn where it wrote one, turned upright: exiftool
// puts a red one, half blue, into a grey photo that lies on its side.
func TestSmallPictureIsThePhonesOwn(t *testing.T) {
	if _, err := exec.LookPath("exiftool"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("exiftool is missing: it makes the sample of this test")
		}
		t.Skip("exiftool is missing: it makes the sample of this test")
	}
	dir := written(t, "ann/IMG_0001.JPG")
	photo := filepath.Join(dir, "photos", "ann", "IMG_0001.JPG")
	inside := image.NewRGBA(image.Rect(0, 0, 160, 120))
	for y := range 120 {
		for x := range 160 {
			inside.Set(x, y, color.RGBA{R: 220, A: 255})
			if x >= 80 {
				inside.Set(x, y, color.RGBA{B: 220, A: 255})
			}
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, inside, nil); err != nil {
		t.Fatal(err)
	}
	thumb := filepath.Join(t.TempDir(), "t.jpg")
	if err := os.WriteFile(thumb, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("exiftool", "-q", "-overwrite_original", "-Orientation#=6", "-ThumbnailImage<="+thumb, photo).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	s, h := served(t, dir)
	stateNow(t, s, h)
	got, err := jpeg.Decode(sent(h, s.own("GET", "/picture/"+keyOf("ann/IMG_0001.JPG")+"/small", "")).Body)
	if err != nil {
		t.Fatal(err)
	}
	// Orientation 6: the first row of the file is the upright picture's right
	// side, so its left half comes to lie on top.
	if got.Bounds() != image.Rect(0, 0, 120, 160) {
		t.Fatalf("%v", got.Bounds())
	}
	if r, _, blue, _ := got.At(60, 20).RGBA(); r < blue {
		t.Error("not turned: the upper half is not red")
	}
	if r, _, blue, _ := got.At(60, 140).RGBA(); r > blue {
		t.Error("not turned: the lower half is not blue")
	}
}

// TestNoPictureFromOutside: a link out of the season's folder is not followed,
// and what is no picture is not sent, whatever it is called.
func TestNoPictureFromOutside(t *testing.T) {
	dir := written(t, "ann/IMG_0001.JPG")
	outside := filepath.Join(written(t, "ben/IMG_0009.JPG", "ann/IMG_0001.JPG"), "photos", "ann", "IMG_0001.JPG")
	if err := os.Symlink(outside, filepath.Join(dir, "photos", "ann", "IMG_0002.JPG")); err != nil {
		t.Skip(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "photos", "ann", "IMG_0003.JPG"), []byte("<!doctype html><script>alert(1)</script>"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, h := served(t, dir)
	stateNow(t, s, h)
	for _, c := range []struct {
		file string
		want int
	}{{"ann/IMG_0003.JPG", 404}, {"ann/IMG_0002.JPG", 404}, {"ann/IMG_0001.JPG", 200}, {"ann/IMG_0003.JPG", 404}} {
		file, want := c.file, c.want
		for _, size := range []string{"original", "small"} {
			if w := sent(h, s.own("GET", "/picture/"+keyOf(file)+"/"+size, "")); w.Code != want {
				t.Errorf("%s, %s: %d, want %d", file, size, w.Code, want)
			}
		}
	}
}
