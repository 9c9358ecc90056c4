package vision

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
	profile := []byte("\xff\xe2\x00\x12ICC_PROFILE\x00\x01\x01xx")
	out, err := withResolution(file, 254, profile)
	if err != nil {
		t.Fatal(err)
	}
	if out[13] != 2 || out[15] != 100 || out[17] != 100 {
		t.Errorf("density bytes % x, want 2 and 100 dots a centimetre both ways", out[13:18])
	}
	if got := colourProfile(out); !bytes.Equal(got, profile) {
		t.Errorf("profile %q, want %q", got, profile)
	}
	if _, err := jpeg.Decode(bytes.NewReader(out)); err != nil {
		t.Error(err)
	}
	if _, err := withResolution(b.Bytes(), 254, nil); err == nil {
		t.Error("a file without a JFIF header was taken")
	}
}

func FuzzColourProfile(f *testing.F) {
	f.Add([]byte("\xff\xd8\xff\xe2\x00\x12ICC_PROFILE\x00\x01\x01xx\xff\xda"))
	f.Add([]byte{0xff, 0xd8, 0xff, 0xff, 0xff})
	f.Fuzz(func(t *testing.T, file []byte) {
		if len(colourProfile(file)) > len(file) {
			t.Error("more than there was")
		}
	})
}
