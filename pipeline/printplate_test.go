package pipeline

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/sheet"
)

// TestHundredMillimetresAtEveryScale prints a plate whose scale bar is N times 100 mm at 1:N on every paper, and measures bar
// and check line on the page that poppler draws at 600 dpi: both are 100 mm within 0.1. PDF's unit is 1/72 inch
// (ISO 32000-1:2008, 8.3.2.3).
func TestHundredMillimetresAtEveryScale(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftoppm is not installed: make test installs poppler-utils")
	}
	const dpi = 600
	dir := t.TempDir()
	for _, n := range []float64{1, 2, 5, 10} {
		pxPerCm := 100 / n
		p := look.Plate{
			Picture: look.Picture{WidthPx: 1500, HeightPx: 600, From: [6]float64{1, 0, 0, 0, 1, 0}, PxPerCm: pxPerCm},
			Number:  "14", Headline: "100 mm", Bar: &look.Bar{BlockCm: 10 * n, Blocks: 1, PxPerCm: pxPerCm, Text: fmt.Sprintf("%g cm", 10*n)},
		}
		for _, paper := range []sheet.Paper{sheet.A4, sheet.A3, sheet.Letter} {
			at, got, dpiOut, err := atScale(p, PlateOptions{N: n, Paper: paper})
			if err != nil || got != n {
				t.Fatal(got, err)
			}
			canvas := image.NewRGBA(image.Rectangle{Max: overlay.Frame(at).Size})
			for i := range canvas.Pix {
				canvas.Pix[i] = 200
			}
			if err := overlay.Draw(canvas, at); err != nil {
				t.Fatal(err)
			}
			var b, out bytes.Buffer
			if err := jpeg.Encode(&b, canvas, nil); err != nil {
				t.Fatal(err)
			}
			s := sheet.New(sheet.Options{Paper: paper, Number: "14", Title: "plate", Made: time.Date(2026, 3, 12, 0, 0, 0, 0, time.UTC)})
			s.Plate(sheet.Plate{JPEG: b.Bytes(), PxPerMm: dpiOut / 25.4, N: n})
			if err := s.Write(&out); err != nil {
				t.Fatal(err)
			}
			pdf := filepath.Join(dir, "plate.pdf")
			if err := os.WriteFile(pdf, out.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			barY, lineY := 0, 0 // of the coarse page, 2 px a mm
			coarse := drawnGrey(t, pdf, "-r", "50.8")
			for y := range coarse.Rect.Dy() {
				if long := longest(coarse, y); long > 190 && long < 215 {
					if barY == 0 {
						barY = y
					}
					lineY = y
				}
			}
			for name, y := range map[string]int{"bar": barY, "check line": lineY} {
				want := 100.2 // its end strokes are 0.2 mm wide
				if name == "bar" {
					y, want = y+4, 100.6 // its outline stands out 0.3 mm at either end
				}
				strip := drawnGrey(t, pdf, "-r", "600", "-x", "0", "-y", strconv.Itoa(y*dpi*10/508-15), "-W", "4000", "-H", "40")
				long := 0
				for row := range strip.Rect.Dy() {
					if l := longest(strip, row); l > long && l < 2600 {
						long = l
					}
				}
				if mm := float64(long) / dpi * 25.4; math.Abs(mm-want) > 0.1 {
					t.Errorf("1:%g on %s: the %s is %.3f mm long, want %.1f", n, paper.Name, name, mm, want)
				} else {
					t.Logf("1:%g on %s: the %s is %.3f mm long, want %.1f", n, paper.Name, name, mm, want)
				}
			}
		}
	}
}

// longest is the longest dark run of a row.
func longest(m *image.Gray, y int) (long int) {
	run := 0
	for x := range m.Rect.Dx() {
		if m.Pix[y*m.Stride+x] > 140 {
			run = 0
			continue
		}
		run++
		long = max(long, run)
	}
	return long
}

// drawnGrey has poppler draw a page as a portable grey map.
func drawnGrey(t *testing.T, pdf string, options ...string) *image.Gray {
	t.Helper()
	out, err := exec.Command("pdftoppm", append(append([]string{"-gray", "-singlefile"}, options...), pdf)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	var w, h, most int
	if _, err := fmt.Sscanf(string(out[:40]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
		t.Fatal(err)
	}
	return &image.Gray{Pix: out[len(out)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)}
}
