package layout

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

const (
	pageDPI   = 600
	withinMm  = 0.1
	stringsCm = 40   // px/cm of the invented plate at its strings,
	boneCm    = 38.8 // and at the bone, for which its bar holds
	ruledAt   = 37   // where the first line is ruled, px from the picture's corner both ways
)

// ruledPlate shows a thing on which lines are ruled both ways every n cm at the level of its bar, which is 10 n cm long.
func ruledPlate(n float64, wideCm, tallCm float64) look.Plate {
	return look.Plate{
		Picture: look.Picture{WidthPx: int(wideCm * stringsCm), HeightPx: int(tallCm * stringsCm), From: [6]float64{1, 0, 0, 0, 1, 0}, PxPerCm: stringsCm},
		Number:  "14", Headline: "100 mm", Bar: &look.Bar{BlockCm: 2 * n, Blocks: 5, PxPerCm: boneCm, Text: fmt.Sprintf("%g cm", 10*n)},
		Rows: []look.Row{{Name: "finds", Text: "femur"}, {Name: "photo", Text: "ann/IMG_0001.JPG"}},
	}
}

// ruled draws such a plate as the vision child does, its picture by the way that From tells from plate to photo.
func ruled(t *testing.T, p look.Plate, n float64) (canvas *image.RGBA, at overlay.Layout) {
	t.Helper()
	at = overlay.Arrange(p)
	canvas = image.NewRGBA(image.Rectangle{Max: at.Size})
	f := p.Picture.From
	dark := func(photo, perPx float64) float64 { // how much of a plate pixel a ruled line covers; lines are 0.6 mm of print wide
		off := math.Abs(math.Remainder(photo-ruledAt, n*boneCm)) / perPx
		return min(max(0.3*at.PxPerMm-off+0.5, 0), 1)
	}
	across := make([]float64, at.Picture.Dx())
	for x := range across {
		across[x] = dark(f[0]*float64(x)+f[2], f[0])
	}
	for y := range at.Picture.Dy() {
		down := dark(f[4]*float64(y)+f[5], f[4])
		row := canvas.Pix[canvas.PixOffset(at.Picture.Min.X, at.Picture.Min.Y+y):]
		for x, d := range across {
			v := uint8(255 - 255*max(d, down))
			row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = v, v, v, 255
		}
	}
	if err := overlay.Draw(canvas, p); err != nil {
		t.Fatal(err)
	}
	return canvas, at
}

// TestEveryPageIsTrueToScale prints a thing ruled every N cm at 1:N and has poppler draw the pages at 600 dpi: on each every ruled line
// lies within 0.1 mm of its place, so that 100 mm are 100 mm all over it, and so are the check line and the scale bar of 10 N cm, at the
// level that the bar holds for. PDF's unit is 1/72 inch (ISO 32000-1:2008, 8.3.2.3). With FIELDJACKET_EVERY_PAGE=1 every page of every
// ratio and paper, which takes a minute or two; else the sheet with the bar and the last one of two.
func TestEveryPageIsTrueToScale(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftoppm is not installed: make test installs poppler-utils")
	}
	every := os.Getenv("FIELDJACKET_EVERY_PAGE") != ""
	for _, c := range []struct {
		n, wideCm, tallCm float64
		paper             sheet.Paper
		sample            bool
	}{
		{1, 40, 30, sheet.A4, false}, {1, 40, 30, sheet.A3, false}, {1, 40, 30, sheet.Letter, true},
		{2, 70, 50, sheet.A4, false}, {2, 70, 50, sheet.A3, false}, {2, 70, 50, sheet.Letter, false},
		{5, 140, 100, sheet.A4, false}, {5, 140, 100, sheet.A3, false}, {5, 140, 100, sheet.Letter, false},
		{10, 140, 100, sheet.A4, false}, {10, 140, 100, sheet.A3, false}, {10, 140, 100, sheet.Letter, false},
		{0, 70, 50, sheet.A4, true}, {0, 70, 50, sheet.A3, false}, {0, 70, 50, sheet.Letter, false},
	} {
		if !every && !c.sample {
			continue
		}
		ruling := c.n
		if ruling == 0 { // best fit: a sheet holds about this
			ruling = 5
		}
		plate, n, dpi, err := Printed(ruledPlate(ruling, c.wideCm, c.tallCm), c.n, false, c.paper)
		if err != nil || c.n > 0 && n != c.n {
			t.Fatal(n, err)
		}
		canvas, at := ruled(t, plate, ruling)
		var b, out bytes.Buffer
		if err := jpeg.Encode(&b, canvas, &jpeg.Options{Quality: 92}); err != nil {
			t.Fatal(err)
		}
		s := sheet.New(sheet.Options{Paper: c.paper, Number: "14", Title: "plate", Made: time.Date(2026, 3, 12, 0, 0, 0, 0, time.UTC)})
		s.Plate(sheet.Plate{JPEG: b.Bytes(), PxPerMm: dpi / 25.4, N: n})
		if err := s.Write(&out); err != nil {
			t.Fatal(err)
		}
		pdf := filepath.Join(t.TempDir(), "plate.pdf")
		if err := os.WriteFile(pdf, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		tiles := sheet.PageParts(c.paper, float64(at.Size.X)/at.PxPerMm, float64(at.Size.Y)/at.PxPerMm)
		lines, bars, worst := 0, 0, 0.0
		name := fmt.Sprintf("1:%g on %s", n, c.paper.Name)
		barMm := 100 * ruling / n // its print's length; the outline stands out 0.3 mm at either end
		first := ruledAt + 0.5    // of the ruled lines, px of the plate as it was before it was enlarged, from the picture's corner
		mm := func(px float64) float64 { return px / boneCm * 10 / n }
		for i, tile := range tiles {
			withBar := tile.Column == 0 && tile.Row == tiles[len(tiles)-1].Row
			if !every && !withBar && i < len(tiles)-1 {
				continue
			}
			page := i + 1
			if len(tiles) > 1 {
				page++ // the plan
			}
			drawn := drawnGrey(t, pdf, "-r", fmt.Sprint(pageDPI), "-f", strconv.Itoa(page), "-l", strconv.Itoa(page))
			if long := checkLineMm(drawn); math.Abs(long-100) > withinMm {
				t.Errorf("%s, page %d: the check line is %.3f mm long", name, page, long)
			}
			x0, y0 := tile.AtX-tile.X+float64(at.Picture.Min.X)/at.PxPerMm, tile.AtY-tile.Y+float64(at.Picture.Min.Y)/at.PxPerMm // the picture's corner on the page
			left, top := max(x0, tile.AtX), max(y0, tile.AtY)
			right, bottom := min(x0+float64(at.Picture.Dx())/at.PxPerMm, tile.AtX+tile.Width), min(y0+float64(at.Picture.Dy())/at.PxPerMm, tile.AtY+tile.Height)
			pitch := mm(ruling * boneCm)
			for j := 0; ; j++ {
				x, y := x0+mm(first)+float64(j)*pitch, y0+mm(first)+float64(j)*pitch
				if x > right && y > bottom {
					break
				}
				// Between two lines of the other direction, at the first place within this sheet.
				if beside := between(y0+mm(first), pitch, top, bottom); x > left+1.5 && x < right-1.5 && beside > 0 {
					lines++
					worst = max(worst, math.Abs(lineOff(drawn, x, beside, 1, 0)))
				}
				if beside := between(x0+mm(first), pitch, left, right); y > top+1.5 && y < bottom-1.5 && beside > 0 {
					lines++
					worst = max(worst, math.Abs(lineOff(drawn, y, beside, 0, 1)))
				}
			}
			if long, ok := barLong(drawn, barMm+0.6, bottom); ok && withBar {
				if bars++; math.Abs(long-barMm-0.6) > withinMm {
					t.Errorf("%s, page %d: the bar is %.3f mm long, want %.2f", name, page, long-0.6, barMm)
				}
			}
		}
		t.Logf("%s: %d sheets at %g dpi, %d lines up to %.3f mm off, %d bars", name, len(tiles), dpi, lines, worst, bars)
		if worst > withinMm || lines < 20 || bars != 1 {
			t.Errorf("%s: %d lines up to %.3f mm off their places, %d bars measured", name, lines, worst, bars)
		}
	}
}

// between is the middle between two ruled lines well within lo to hi; 0: there is none.
func between(first, pitch, lo, hi float64) float64 {
	at := first + pitch*(math.Ceil((lo+2-first)/pitch-0.5)+0.5)
	if at > hi-2 {
		return 0
	}
	return at
}

// lineOff is how far, in mm along (dx, dy), a ruled line lies from its place: that of the ink about it, over 1 mm of the line.
func lineOff(page *image.Gray, at, beside float64, dx, dy int) float64 {
	const around, over = 30, 12 // px
	sum, ink := 0.0, 0.0
	middle := at / 25.4 * pageDPI
	from, side := int(math.Round(middle)), int(beside/25.4*pageDPI)
	for i := -around; i <= around; i++ {
		for j := -over; j <= over; j++ {
			dark := 255 - float64(page.GrayAt((from+i)*dx+(side+j)*dy, (from+i)*dy+(side+j)*dx).Y)
			sum, ink = sum+dark*float64(i), ink+dark
		}
	}
	if ink < 255*around/4 { // no line at all
		return math.Inf(1)
	}
	return (float64(from) + sum/ink + 0.5 - middle) / pageDPI * 25.4
}

// checkLineMm is how long the line at the foot of a page is, from the middle of its first stroke across to that of its last, which are 0.2 mm wide.
func checkLineMm(page *image.Gray) float64 {
	long := 0
	for y := page.Rect.Dy() - 18*pageDPI/25; y < page.Rect.Dy(); y++ {
		long = max(long, longest(page, y))
	}
	return float64(long)/pageDPI*25.4 - 0.2
}

// barLong is the longest dark run in the margin below a picture that is about as long as a bar's outline.
func barLong(page *image.Gray, wantMm, belowMm float64) (mm float64, ok bool) {
	for y := int((belowMm + 3) / 25.4 * pageDPI); y < page.Rect.Dy()-20*pageDPI/25; y++ {
		if long := float64(longest(page, y)) / pageDPI * 25.4; math.Abs(long-wantMm) < 4 {
			mm, ok = max(mm, long), true
		}
	}
	return mm, ok
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
