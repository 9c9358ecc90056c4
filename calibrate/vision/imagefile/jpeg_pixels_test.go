//go:build cgo

package imagefile

import (
	"bytes"
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// coloured is a picture of soft colours with noise, its sides no multiples of a JPEG's blocks.
func coloured(width, height int) gocv.Mat {
	m := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(90, 120, 150, 0), height, width, gocv.MatTypeCV8UC3)
	gocv.Circle(&m, image.Pt(width/3, height/2), height/4, color.RGBA{R: 220, G: 60, B: 40}, -1)
	gocv.Line(&m, image.Pt(0, height/5), image.Pt(width, height), color.RGBA{R: 30, G: 60, B: 200}, 5)
	pixels, _ := m.DataPtrUint8()
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range pixels {
		pixels[i] += uint8(rng.IntN(12))
	}
	return m
}

// TestJPEGIsOpenCVs holds every byte of a file and every pixel of a picture to what OpenCV's own functions make.
func TestJPEGIsOpenCVs(t *testing.T) {
	for _, size := range []image.Point{{517, 389}, {16, 16}, {1, 1}} {
		m, rgba := coloured(size.X, size.Y), gocv.NewMat()
		gocv.CvtColor(m, &rgba, gocv.ColorBGRToRGBA)
		for _, quality := range []int{92, 75} {
			want, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, m, []int{int(gocv.IMWriteJpegQuality), quality})
			if err != nil {
				t.Fatal(err)
			}
			for name, pixels := range map[string]gocv.Mat{"BGR": m, "RGBA": rgba} {
				if got, err := encodeJPEG(pixels, quality); err != nil || !bytes.Equal(got, want.GetBytes()) {
					t.Errorf("%v from %s at quality %d: %d bytes (%v), OpenCV writes %d others", size, name, quality, len(got), err, len(want.GetBytes()))
				}
			}
			file := bytes.Clone(want.GetBytes())
			want.Close()
			theirs, err := gocv.IMDecode(file, gocv.IMReadColor)
			if err != nil {
				t.Fatal(err)
			}
			ours, ok := decodeJPEG(file, size.X, size.Y)
			if !ok {
				t.Fatalf("%v: not decoded", size)
			}
			if !bytes.Equal(ours.ToBytes(), theirs.ToBytes()) {
				t.Errorf("%v at quality %d: other pixels than OpenCV's", size, quality)
			}
			ours.Close()
			theirs.Close()
		}
		m.Close()
		rgba.Close()
	}
}

// TestUnusualJPEGIsLeftToOpenCV: grey ones, those of another size than expected, damaged and cut ones.
func TestUnusualJPEGIsLeftToOpenCV(t *testing.T) {
	m, grey := coloured(200, 150), gocv.NewMat()
	defer m.Close()
	defer grey.Close()
	gocv.CvtColor(m, &grey, gocv.ColorBGRToGray)
	whole, err := encodeJPEG(m, 90)
	if err != nil {
		t.Fatal(err)
	}
	one, err := gocv.IMEncode(gocv.JPEGFileExt, grey)
	if err != nil {
		t.Fatal(err)
	}
	defer one.Close()
	damaged := bytes.Clone(whole)
	for i := len(damaged) / 2; i < len(damaged)/2+40; i++ {
		damaged[i] = 0xff
	}
	for name, c := range map[string]struct {
		file []byte
		w, h int
	}{
		"grey": {one.GetBytes(), 200, 150}, "larger than expected": {whole, 199, 150}, "smaller": {whole, 200, 151}, "turned": {whole, 150, 200},
		"cut short": {whole[:len(whole)*2/3], 200, 150}, "no end": {whole[:len(whole)-2], 200, 150}, "head only": {whole[:300], 200, 150}, "damaged": {damaged, 200, 150},
		"another file": {[]byte("not a picture at all"), 200, 150}, "one byte": {[]byte{0xff}, 200, 150},
	} {
		if raw, ok := decodeJPEG(c.file, c.w, c.h); ok {
			raw.Close()
			t.Errorf("%s: taken", name)
		}
	}
	raw, _, err := Decode(one.GetBytes(), look.Source{Format: "jpeg", Orientation: 1, WidthPx: 200, HeightPx: 150})
	if err != nil {
		t.Fatalf("a grey JPEG: %v", err)
	}
	raw.Close()
}
