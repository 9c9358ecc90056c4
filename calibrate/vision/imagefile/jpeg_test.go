package imagefile

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"
)

// TestWithResolution: dots per centimetre in the JFIF header (ITU-T T.871,
// 10.1), and the profile behind it.
func TestWithResolution(t *testing.T) {
	head := []byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00")
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		t.Fatal(err)
	}
	file := append(append([]byte{}, head...), b.Bytes()[2:]...)
	for name, n := range map[string]int{"short": 500, "in three segments": 150_000} {
		profile := append(bytes.Repeat([]byte{7}, 16), append([]byte("RGB "), bytes.Repeat([]byte{9}, n)...)...)
		out, err := withResolution(file, 254, profileSegments(profile))
		if err != nil {
			t.Fatal(err)
		}
		if out[13] != 2 || out[15] != 100 || out[17] != 100 {
			t.Errorf("%s: density bytes % x, want 2 and 100 dots a centimetre both ways", name, out[13:18])
		}
		if got := colourProfile(out, "jpeg"); !bytes.Equal(got, profile) {
			t.Errorf("%s: profile of %d bytes, want %d", name, len(got), len(profile))
		}
		if _, err := jpeg.Decode(bytes.NewReader(out)); err != nil {
			t.Error(err)
		}
	}
	if _, err := withResolution(b.Bytes(), 254, nil); err == nil {
		t.Error("a file without a JFIF header was taken")
	}
}

// TestPlateProfile: a plate carries a profile for red, green and blue, and no other.
func TestPlateProfile(t *testing.T) {
	for space, carried := range map[string]bool{"RGB ": true, "GRAY": false, "CMYK": false} {
		profile := append(bytes.Repeat([]byte{7}, 16), append([]byte(space), make([]byte, 500)...)...)
		if got := plateProfile(profile); (got != nil) != carried {
			t.Errorf("%q carried: %v, want %v", space, got != nil, carried)
		}
	}
	if plateProfile([]byte("RGB ")) != nil {
		t.Error("a profile cut short is carried")
	}
}

// FuzzColourProfile gives any bytes for a file of each format.
func FuzzColourProfile(f *testing.F) {
	f.Add("jpeg", []byte("\xff\xd8\xff\xe2\x00\x12ICC_PROFILE\x00\x01\x01xx\xff\xda"))
	f.Add("jpeg", []byte{0xff, 0xd8, 0xff, 0xff, 0xff})
	f.Add("png", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x02iCCPa\x00\x00\x00\x00\x00"))
	f.Add("webp", []byte("RIFF\x10\x00\x00\x00WEBPICCP\x02\x00\x00\x00ab"))
	f.Add("tiff", []byte("II*\x00\x08\x00\x00\x00\x01\x00\x73\x87\x07\x00\x04\x00\x00\x00\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, format string, file []byte) {
		if n := len(colourProfile(file, format)); n > maxProfile {
			t.Errorf("%d bytes", n)
		}
	})
}
