//go:build cgo

package vision

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision/imagefile"
)

// save writes a JPEG of the picture and gives its path.
func save(t *testing.T, m image.Image) string {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 98}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestOrientations: a picture stored as each orientation says (Exif 2.32, tag
// 0x0112: where row 0 and column 0 of the stored picture lie in the upright
// one) opens upright. Upright: 48 x 32, top left 40, top right 100, bottom
// left 160, bottom right 220.
func TestOrientations(t *testing.T) {
	const w, h = 48, 32
	grey := func(x, y int) uint8 { return uint8(40 + 60*(x/(w/2)) + 120*(y/(h/2))) }
	stored := map[int]func(x, y int) (int, int){ // upright place of the stored (x, y)
		1: func(x, y int) (int, int) { return x, y },
		2: func(x, y int) (int, int) { return w - 1 - x, y },
		3: func(x, y int) (int, int) { return w - 1 - x, h - 1 - y },
		4: func(x, y int) (int, int) { return x, h - 1 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return w - 1 - y, x },
		7: func(x, y int) (int, int) { return w - 1 - y, h - 1 - x },
		8: func(x, y int) (int, int) { return y, h - 1 - x },
	}
	for orientation, place := range stored {
		sw, sh := w, h
		if orientation > 4 {
			sw, sh = h, w
		}
		m := image.NewGray(image.Rect(0, 0, sw, sh))
		for y := range sh {
			for x := range sw {
				ux, uy := place(x, y)
				m.SetGray(x, y, color.Gray{Y: grey(ux, uy)})
			}
		}
		path := save(t, m)
		p, err := Open(look.Source{Path: path, Orientation: orientation, WidthPx: w, HeightPx: h})
		if err != nil {
			t.Errorf("orientation %d: %v", orientation, err)
			continue
		}
		for _, c := range [][2]int{{8, 8}, {40, 8}, {8, 24}, {40, 24}} {
			if got, want := int(p.Grey.GetUCharAt(c[1], c[0])), int(grey(c[0], c[1])); got < want-6 || got > want+6 {
				t.Errorf("orientation %d: %d at %v, want %d", orientation, got, c, want)
			}
		}
		p.Close()
		if p, err := Open(look.Source{Path: path, Orientation: orientation, WidthPx: h, HeightPx: w}); err == nil {
			p.Close()
			t.Errorf("orientation %d: opened at a size that it does not have", orientation)
		}
	}
}

// TestOpenDamaged: empty, and cut short before any pixel.
func TestOpenDamaged(t *testing.T) {
	whole, err := os.ReadFile(save(t, image.NewGray(image.Rect(0, 0, 48, 32))))
	if err != nil {
		t.Fatal(err)
	}
	for name, file := range map[string][]byte{"empty": nil, "head alone": whole[:20], "noise": bytes.Repeat([]byte{7, 91, 200}, 300)} {
		path := filepath.Join(t.TempDir(), "b.jpg")
		if err := os.WriteFile(path, file, 0o644); err != nil {
			t.Fatal(err)
		}
		p, err := Open(look.Source{Path: path, Orientation: 1, WidthPx: 48, HeightPx: 32})
		if !errors.Is(err, imagefile.ErrNotDecoded) {
			t.Errorf("%s: %v, want ErrNotDecoded", name, err)
		}
		if err == nil {
			p.Close()
		}
	}
}

// TestLookRefusesNoise: no board where there is none.
func TestLookRefusesNoise(t *testing.T) {
	OneThread()
	rng := rand.New(rand.NewPCG(3, 4))
	m := image.NewGray(image.Rect(0, 0, 640, 480))
	for i := range m.Pix {
		m.Pix[i] = uint8(rng.IntN(256))
	}
	p, err := Open(look.Source{Path: save(t, m), Orientation: 1, WidthPx: 640, HeightPx: 480})
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	ref, _ := calibrate.Checker(7, 5, 2)
	found := Look(p, []calibrate.Reference{ref, {Kind: calibrate.KindCard}}, 1)
	for i, f := range found {
		if f.Refused == nil || f.Refused.Retake == "" || len(f.Marks) > 0 {
			t.Errorf("reference %d: %+v, want a refusal that says how to retake", i, f)
		}
	}
}

// TestRectifyAndEncode: a board drawn under a known tilt is found, rectified,
// and its squares' edges lie at whole squares of the plate; the file carries
// its density and no Exif.
func TestRectifyAndEncode(t *testing.T) {
	OneThread()
	const w, h, squareCm, pxPerCm = 1200, 900, 2.0, 20.0
	// cm on the board (10 x 8 squares, from its corner) to the photo.
	hm := [9]float64{40, 4, 200, -3, 38, 150, 0.006, 0.004, 1}
	det := func(a, b, c, d float64) float64 { return a*d - b*c }
	m := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			sum := 0.0
			for sub := range 16 {
				px, py := float64(x)+(float64(sub%4)-1.5)/4, float64(y)+(float64(sub/4)-1.5)/4
				a, b := hm[0]-px*hm[6], hm[1]-px*hm[7]
				c, d := hm[3]-py*hm[6], hm[4]-py*hm[7]
				e, f := px-hm[2], py-hm[5]
				u, v := det(e, b, f, d)/det(a, b, c, d), det(a, e, c, f)/det(a, b, c, d)
				i, j := math.Floor(u/squareCm), math.Floor(v/squareCm)
				if i >= 0 && i < 10 && j >= 0 && j < 8 && (int(i)+int(j))%2 == 0 {
					sum += 30
				} else {
					sum += 225
				}
			}
			m.SetGray(x, y, color.Gray{Y: uint8(sum / 16)})
		}
	}
	p, err := Open(look.Source{Path: save(t, m), Orientation: 1, WidthPx: w, HeightPx: h})
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	ref, _ := calibrate.Checker(10, 8, squareCm)
	found := Look(p, []calibrate.Reference{ref}, 1)[0]
	if found.Refused != nil {
		t.Fatal(found.Refused.Reason)
	}
	plane, err := calibrate.FitChecker(ref, p.Camera(), found.Marks)
	if err != nil {
		t.Fatal(err)
	}
	size := image.Pt(400, 320)
	picture := look.Picture{WidthPx: size.X, HeightPx: size.Y, From: [6]float64{1 / pxPerCm, 0, 0, 0, 1 / pxPerCm, 0}, Plane: plane, PxPerCm: pxPerCm}
	c, err := Rectify(p, picture, image.Pt(500, 400), image.Rectangle{Min: image.Pt(50, 40), Max: image.Pt(450, 360)})
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	edges := 0
	for line := range 7 { // through the middles of the squares between inner corners
		y := 40 + int((float64(line)+0.5)*squareCm*pxPerCm)
		for x := 50 + 30; x < 450-30; x++ {
			a, b := float64(c.Image.RGBAAt(x, y).R), float64(c.Image.RGBAAt(x+1, y).R)
			if (a-127.5)*(b-127.5) > 0 {
				continue
			}
			at := float64(x-50) + (127.5-a)/(b-a)
			square := squareCm * pxPerCm
			if off := at - square*math.Round(at/square); math.Abs(off) > 0.5 {
				t.Errorf("row %d: an edge at %.2f px, %.2f px off a whole square", y, at, off)
			}
			edges++
		}
	}
	if edges < 50 {
		t.Errorf("%d edges seen, want 7 rows of 9", edges)
	}
	path := filepath.Join(t.TempDir(), "plate.jpg")
	if err := c.Encode(p, path, "", 300); err != nil {
		t.Fatal(err)
	}
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if file[13] != 1 || int(file[14])<<8|int(file[15]) != 300 || int(file[16])<<8|int(file[17]) != 300 {
		t.Errorf("density % x, want 300 dots an inch", file[13:18])
	}
	if bytes.Contains(file, []byte("Exif\x00")) {
		t.Error("the plate carries Exif")
	}
	if config, err := jpeg.DecodeConfig(bytes.NewReader(file)); err != nil || config.Width != 500 || config.Height != 400 {
		t.Errorf("%+v, %v, want 500 x 400", config, err)
	}
	if _, err := Rectify(p, picture, image.Pt(300, 400), image.Rect(0, 0, 400, 320)); err == nil {
		t.Error("a picture larger than its canvas was taken")
	}
}
