//go:build cgo

package vision

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision/imagefile"
)

// quarters is a picture of 96 x 64 px whose four quarters differ: red, green, blue, grey from the top left in reading order.
func quarters() *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, 96, 64))
	of := [2][2]color.NRGBA{{{220, 40, 40, 255}, {40, 200, 40, 255}}, {{40, 40, 220, 255}, {128, 128, 128, 255}}}
	for y := range 64 {
		for x := range 96 {
			m.SetNRGBA(x, y, of[y/32][x/48])
		}
	}
	return m
}

// plainTIFF writes an uncompressed TIFF with an orientation tag, in one strip (TIFF 6.0, section 6).
func plainTIFF(m *image.NRGBA, orientation uint16) []byte {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	out := []byte("II*\x00\x08\x00\x00\x00")
	le := binary.LittleEndian
	tags := [][3]uint32{{0x100, 4, uint32(w)}, {0x101, 4, uint32(h)}, {0x102, 3, 0}, {0x103, 3, 1}, {0x106, 3, 2}, {0x111, 4, 0},
		{0x112, 3, uint32(orientation)}, {0x115, 3, 3}, {0x116, 4, uint32(h)}, {0x117, 4, uint32(3 * w * h)}}
	pixels := 8 + 2 + 12*len(tags) + 4 + 6
	out = le.AppendUint16(out, uint16(len(tags)))
	for _, t := range tags {
		count := uint32(1)
		switch t[0] {
		case 0x102:
			count, t[2] = 3, uint32(pixels-6)
		case 0x111:
			t[2] = uint32(pixels)
		}
		out = le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(out, uint16(t[0])), uint16(t[1])), count), t[2])
	}
	out = append(out, 0, 0, 0, 0, 8, 0, 8, 0, 8, 0)
	for i := 0; i < len(m.Pix); i += 4 {
		out = append(out, m.Pix[i:i+3]...)
	}
	return out
}

// encoded runs a tool that turns a PNG of [quarters] into another format.
func encoded(t *testing.T, name string, tool string, args func(in, out string) []string) []byte {
	t.Helper()
	return encodedFrom(t, quarters(), name, tool, args)
}

// encodedFrom runs a tool that turns a picture, as a PNG, into another format.
func encodedFrom(t *testing.T, picture image.Image, name string, tool string, args func(in, out string) []string) []byte {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is missing: it makes the samples of this test", tool)
		}
		t.Skipf("%s is missing: it makes the samples of this test", tool)
	}
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.png"), filepath.Join(dir, name)
	var b bytes.Buffer
	if err := png.Encode(&b, picture); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(in, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if words, err := exec.Command(tool, args(in, out)...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v: %s", tool, err, words)
	}
	content, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// TestFormatsShowTheSame opens one picture in every format and orientation and looks at the colour of each quarter: what the
// file says of its own orientation is never applied, what the request says once.
func TestFormatsShowTheSame(t *testing.T) {
	// where the stored quarters, in reading order, stand once upright (EXIF 2.32, orientation)
	shown := map[int][4]int{1: {0, 1, 2, 3}, 2: {1, 0, 3, 2}, 3: {3, 2, 1, 0}, 4: {2, 3, 0, 1}, 5: {0, 2, 1, 3}, 6: {2, 0, 3, 1}, 7: {3, 1, 2, 0}, 8: {1, 3, 0, 2}}
	files := map[string]func(t *testing.T, orientation int) []byte{
		"jpeg": func(t *testing.T, _ int) []byte {
			var b bytes.Buffer
			if err := jpeg.Encode(&b, quarters(), &jpeg.Options{Quality: 95}); err != nil {
				t.Fatal(err)
			}
			return b.Bytes()
		},
		"png": func(t *testing.T, orientation int) []byte {
			var b bytes.Buffer
			if err := png.Encode(&b, quarters()); err != nil {
				t.Fatal(err)
			}
			chunk := append([]byte("eXIfMM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00"), byte(orientation), 0, 0, 0, 0, 0, 0)
			sum := crc32.ChecksumIEEE(chunk)
			chunk = binary.BigEndian.AppendUint32(append(binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-4)), chunk...), sum)
			return slices.Insert(b.Bytes(), 8+25, chunk...) // behind IHDR
		},
		"tiff": func(_ *testing.T, orientation int) []byte { return plainTIFF(quarters(), uint16(orientation)) },
		"webp": func(t *testing.T, _ int) []byte {
			return encoded(t, "a.webp", "cwebp", func(in, out string) []string { return []string{"-quiet", "-lossless", in, "-o", out} })
		},
		"heic": func(t *testing.T, _ int) []byte {
			return encoded(t, "a.heic", "heif-enc", func(in, out string) []string { return []string{"-q", "95", in, "-o", out} })
		},
	}
	pixels := quarters()
	for format, make := range files {
		t.Run(format, func(t *testing.T) {
			for orientation := 1; orientation <= 8; orientation++ {
				if format == "heic" && orientation > 1 {
					break // its turn is in the file, and the request always says 1
				}
				path := filepath.Join(t.TempDir(), "a")
				if err := os.WriteFile(path, make(t, orientation), 0o644); err != nil {
					t.Fatal(err)
				}
				s := look.Source{Path: path, Format: format, Orientation: orientation, WidthPx: 96, HeightPx: 64, MaxPixels: 1e6}
				if orientation >= 5 {
					s.WidthPx, s.HeightPx = 64, 96
				}
				p, err := Open(s)
				if err != nil {
					t.Fatalf("orientation %d: %v", orientation, err)
				}
				for i, stored := range shown[orientation] {
					x, y := s.WidthPx*(1+2*(i%2))/4, s.HeightPx*(1+2*(i/2))/4
					got := p.Colour.GetVecbAt(y, x)
					want := pixels.NRGBAAt(96*(1+2*(stored%2))/4, 64*(1+2*(stored/2))/4)
					if off := max(apart(got[2], want.R), apart(got[1], want.G), apart(got[0], want.B)); off > 12 {
						t.Errorf("orientation %d, quarter %d: %v, want %v", orientation, i, got, want)
					}
				}
				p.Close()
			}
		})
	}
}

func apart(a, b byte) int { return max(int(a)-int(b), int(b)-int(a)) }

// TestDeclaredSizeIsHeldBeforeDecoding: a HEIC over the limit is refused by its head.
func TestDeclaredSizeIsHeldBeforeDecoding(t *testing.T) {
	content := encoded(t, "a.heic", "heif-enc", func(in, out string) []string { return []string{in, "-o", out} })
	_, _, err := imagefile.Decode(content, look.Source{Format: "heic", MaxPixels: 96*64 - 1})
	if want := fmt.Sprintf("picture of 96 x 64 px: more than the limit of %d pixels", 96*64-1); err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	if _, _, err := imagefile.Decode(content[:len(content)-10], look.Source{Format: "heic"}); err == nil {
		t.Error("a HEIC cut short was decoded")
	}
}
