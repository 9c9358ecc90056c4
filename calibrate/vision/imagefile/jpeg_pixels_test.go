//go:build cgo

package imagefile

import (
	"bytes"
	"errors"
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
			ours, err := decodeJPEG(file, size.X, size.Y)
			if err != nil {
				t.Fatalf("%v: %v", size, err)
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

// TestUnusualJPEGIsOpenCVs: grey, in passes, with restart markers, in four inks.
func TestUnusualJPEGIsOpenCVs(t *testing.T) {
	m, grey := coloured(200, 150), gocv.NewMat()
	defer m.Close()
	defer grey.Close()
	gocv.CvtColor(m, &grey, gocv.ColorBGRToGray)
	for name, file := range map[string][]byte{
		"grey": written(t, grey), "in passes": written(t, m, gocv.IMWriteJpegProgressive, 1), "with restart markers": written(t, m, gocv.IMWriteJpegRstInterval, 3),
		"in four inks": inFourInks(t, written(t, grey)),
	} {
		theirs, err := gocv.IMDecode(file, gocv.IMReadColor)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		ours, err := decodeJPEG(file, 200, 150)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !bytes.Equal(ours.ToBytes(), theirs.ToBytes()) {
			t.Errorf("%s: other pixels than OpenCV's", name)
		}
		ours.Close()
		theirs.Close()
	}
}

// TestDamagedJPEGIsRefused: what the library only warns of, and OpenCV passes on as a photo. Bytes between segments are of no
// harm (T.81, B.1.1.2, has fill bytes there; phones leave others).
func TestDamagedJPEGIsRefused(t *testing.T) {
	m := coloured(400, 300)
	defer m.Close()
	for kind, whole := range map[string][]byte{
		"plain": written(t, m), "in passes": written(t, m, gocv.IMWriteJpegProgressive, 1), "with restart markers": written(t, m, gocv.IMWriteJpegRstInterval, 3),
	} {
		at := bytes.Index(whole, []byte{0xff, 0xda}) + 14 // behind the scan's header (of three parts, or one)
		middle := at + (len(whole)-at)/2
		with := func(from, to int, put []byte) []byte {
			return append(append(bytes.Clone(whole[:from]), put...), whole[to:]...)
		}
		frame := max(bytes.Index(whole, []byte{0xff, 0xc0, 0}), bytes.Index(whole, []byte{0xff, 0xc2, 0}))
		for name, c := range map[string]struct {
			file []byte
			w, h int
			want error
		}{
			"whole": {whole, 400, 300, nil}, "bytes between segments": {with(20, 20, []byte("stray")), 400, 300, nil},
			"larger than expected": {whole, 399, 300, ErrNotDecoded}, "smaller": {whole, 400, 301, ErrNotDecoded}, "turned": {whole, 300, 400, ErrNotDecoded},
			"cut short": {whole[:middle], 400, 300, ErrDamaged}, "no end": {whole[:len(whole)-40], 400, 300, ErrDamaged}, "head only": {whole[:200], 400, 300, ErrNotDecoded},
			"cut and ended anew":   {append(bytes.Clone(whole[:middle]), 0xff, 0xd9), 400, 300, ErrDamaged},
			"zeroed":               {with(middle, middle+2000, make([]byte, 2000)), 400, 300, ErrDamaged},
			"lost":                 {with(middle, middle+2000, nil), 400, 300, ErrDamaged},
			"twice the height":     {with(frame+5, frame+7, []byte{600 >> 8, 600 & 0xff}), 400, 600, ErrDamaged},
			"half the height":      {with(frame+5, frame+7, []byte{0, 150}), 400, 150, ErrDamaged},
			"bytes before its end": {with(len(whole)-2, len(whole)-2, bytes.Repeat([]byte{0x5a}, 50)), 400, 300, ErrDamaged},
			"another file":         {[]byte("not a picture at all"), 400, 300, ErrNotDecoded}, "one byte": {[]byte{0xff}, 400, 300, ErrNotDecoded},
		} {
			raw, _, err := Decode(c.file, look.Source{Format: "jpeg", Orientation: 1, WidthPx: c.w, HeightPx: c.h})
			if err == nil {
				raw.Close()
			}
			if !errors.Is(err, c.want) || (err == nil) != (c.want == nil) {
				t.Errorf("%s, %s: %v, want %v", kind, name, err, c.want)
			}
		}
	}
}

// TestPassesOverAJPEGAreBounded: each pass takes the time of a whole picture, and a file of 800 kB can hold twenty thousand.
func TestPassesOverAJPEGAreBounded(t *testing.T) {
	m := gocv.NewMatWithSize(48, 64, gocv.MatTypeCV8UC1)
	defer m.Close()
	four := inFourInks(t, written(t, m))
	first := bytes.Index(four, []byte{0xff, 0xda})
	passes := four[first : len(four)-2]
	for times, want := range map[int]error{3: nil, 30: ErrDamaged} {
		file := append(append(bytes.Clone(four[:first]), bytes.Repeat(passes, times)...), 0xff, 0xd9)
		raw, err := decodeJPEG(file, 64, 48)
		if err == nil {
			raw.Close()
		}
		if !errors.Is(err, want) {
			t.Errorf("%d passes: %v, want %v", 4*times, err, want)
		}
	}
}

// written is a JPEG as OpenCV writes it.
func written(t *testing.T, m gocv.Mat, parameters ...int) []byte {
	t.Helper()
	b, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, m, append([]int{gocv.IMWriteJpegQuality, 90}, parameters...))
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	return bytes.Clone(b.GetBytes())
}

// inFourInks makes of a grey JPEG one of cyan, magenta, yellow and black that all look like it: four parts, each coded alone
// (T.81, A.2.2) with the same bytes.
func inFourInks(t *testing.T, grey []byte) []byte {
	t.Helper()
	out := []byte("\xff\xd8\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00\x00") // APP14: no transform
	for at := 2; ; {
		n := 2 + int(grey[at+2])<<8 + int(grey[at+3])
		switch segment := grey[at : at+n]; segment[1] {
		case 0xe0:
		case 0xc0:
			out = append(append(out, 0xff, 0xc0, 0, 8+3*4), segment[4:9]...)
			out = append(out, 4, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0)
		case 0xda:
			for part := range byte(4) {
				scan := bytes.Clone(grey[at : len(grey)-2])
				scan[5] = part + 1
				out = append(out, scan...)
			}
			return append(out, 0xff, 0xd9)
		default:
			out = append(out, segment...)
		}
		at += n
	}
}
