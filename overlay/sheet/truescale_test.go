package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"
)

// waves is a plate whose every place looks different from its neighbours for 20 mm around.
func waves(x, y int) float64 {
	return 128 + 50*math.Sin(float64(x)/9+float64(y)/45) + 50*math.Sin(float64(y)/12+float64(x)/35)
}

// A plate larger than its paper, cut into sheets as their parts say and laid over each other, is the plate again.
func TestTilesMakeThePlateAgain(t *testing.T) {
	const perMm = 3
	const w, h = 1200, 950
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, color.Gray{Y: uint8(waves(x, y))})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	for _, paper := range []Paper{A4} {
		s := begin(paper)
		s.Plate(Plate{JPEG: b.Bytes(), PxPerMm: perMm, N: 1})
		parts := PageParts(paper, float64(w)/perMm, float64(h)/perMm)
		pages := rasters(t, s, "-r", "76.2") // perMm pixels a mm
		if len(pages) != len(parts)+1 {
			t.Fatalf("%s: %d pages of %d parts: want a plan besides", paper.Name, len(pages), len(parts))
		}
		covered := make([]bool, w*h)
		for i, part := range parts {
			page := pages[i+1]
			atX, atY := int(math.Round(part.AtX*perMm)), int(math.Round(part.AtY*perMm))
			sum, n := 0.0, 0
			for y := 2; y < int(part.Height*perMm)-2; y++ {
				for x := 2; x < int(part.Width*perMm)-2; x++ {
					px, py := part.X*perMm+float64(x), part.Y*perMm+float64(y)
					got := page.GrayAt(atX+x, atY+y).Y
					sum += math.Abs(float64(got) - waves(int(px+0.5), int(py+0.5)))
					n++
					if ix, iy := int(px+0.5), int(py+0.5); ix < w && iy < h {
						covered[iy*w+ix] = true
					}
				}
			}
			if off := sum / float64(n); off > 5 { // half a pixel off makes 2.5; a millimetre, 15
				t.Errorf("%s, sheet %s: differs from its part of the plate by %.1f grey steps", paper.Name, part.name(), off)
			}
		}
		for y := 6; y < h-6; y++ {
			for x := 6; x < w-6; x++ {
				if !covered[y*w+x] {
					t.Fatalf("%s: no sheet shows (%d, %d)", paper.Name, x, y)
				}
			}
		}
	}
}

func TestTiles(t *testing.T) {
	if got := PageParts(A4, 183, 100); len(got) != 1 || got[0].Width != 183 || got[0].X != 0 {
		t.Errorf("a plate as wide as the sheet's room: %+v", got)
	}
	for _, paper := range []Paper{A4, A3, Letter} {
		for _, size := range [][2]float64{{200, 100}, {1200, 900}, {365, 10}} {
			for _, part := range PageParts(paper, size[0], size[1]) {
				if part.AtX+part.Width > paper.WidthMm-rightMm+1e-6 || part.AtY+part.Height > paper.HeightMm-footMm-plateTextMm+1e-6 {
					t.Errorf("%s, %v: %+v leaves the sheet's room", paper.Name, size, part)
				}
				if part.X+part.Width > size[0]+1e-6 || part.Y+part.Height > size[1]+1e-6 {
					t.Errorf("%s, %v: %+v leaves the plate", paper.Name, size, part)
				}
			}
		}
	}
	s := begin(A4)
	s.Plate(Plate{JPEG: picture(t, 4000, 4000), PxPerMm: 1, N: 1})
	if err := s.Write(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "smaller scale") {
		t.Errorf("4 x 4 m on A4: %v", err)
	}
	s = begin(A4)
	s.Plate(Plate{JPEG: picture(t, 40, 40), N: 1})
	if err := s.Write(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "positive") {
		t.Errorf("without a resolution: %v", err)
	}
}
