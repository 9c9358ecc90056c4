package picture

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"
)

func grey(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 30)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestCleanKeepsThePictureAlone: what stands in segments, in a thumbnail and behind the end is gone, and the picture is the same.
func TestCleanKeepsThePictureAlone(t *testing.T) {
	plain := grey(t)
	var dirty bytes.Buffer
	dirty.Write(plain[:2])
	dirty.Write(sized(app0, append([]byte{'J', 'F', 'I', 'F', 0, 1, 2, 2, 0, 100, 0, 100, 1, 1}, "SECRET"...)))
	dirty.Write(sized(app1, []byte("Exif\x00\x00SECRET")))
	dirty.Write(sized(app2, []byte("MPF\x00SECRET")))
	dirty.Write(sized(app2, append(iccName, 1, 1, 'p')))
	dirty.Write(sized(0xed, []byte("Photoshop 3.0\x00SECRET")))
	dirty.Write(sized(adob, append([]byte{'A', 'd', 'o', 'b', 'e', 0, 100, 0, 0, 0, 0, 0}, "SECRET"...)))
	dirty.Write(sized(0xfe, []byte("SECRET")))
	dirty.Write(plain[2:])
	dirty.WriteString("SECRET")
	clean, perInch, err := Clean(dirty.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(clean, []byte("SECRET")) || !bytes.Contains(clean, iccName) || perInch != 254 {
		t.Errorf("%d per inch, %q", perInch, clean)
	}
	if _, err := jpeg.Decode(bytes.NewReader(clean)); err != nil {
		t.Error(err)
	}
	if w, h := Size(clean); w != 40 || h != 30 {
		t.Errorf("%d x %d", w, h)
	}
	if twice, _, err := Clean(clean); err != nil || !bytes.Equal(clean, twice) {
		t.Errorf("cleaned twice: %v", err)
	}
	for n := range len(plain) {
		if _, _, err := Clean(plain[:n]); err == nil {
			t.Errorf("%d of %d bytes count as whole", n, len(plain))
		}
	}
}

func FuzzClean(f *testing.F) {
	f.Add(grey(f))
	f.Add([]byte{0xff, soi, 0xff, eoi})
	f.Fuzz(func(t *testing.T, file []byte) {
		clean, _, err := Clean(file)
		if err != nil {
			return
		}
		if again, _, err := Clean(clean); err != nil || !bytes.Equal(clean, again) {
			t.Fatalf("cleaned twice: %v", err)
		}
		Size(file)
	})
}
