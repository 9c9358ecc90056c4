package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

var made = time.Date(2026, 3, 12, 20, 0, 0, 0, time.UTC)

func begin(p Paper) *Sheets {
	return New(Options{Paper: p, Number: "VC 07/26-B", Title: "lab packet", Made: made})
}

// picture is a JPEG as this program writes them: a black frame of 4 px around grey.
func picture(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			if x >= 4 && y >= 4 && x < w-4 && y < h-4 {
				img.SetGray(x, y, color.Gray{Y: 200})
			}
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// rasters are the pages of sheets as poppler draws them.
func rasters(t *testing.T, s *Sheets, options ...string) []*image.Gray {
	t.Helper()
	var b bytes.Buffer
	if err := s.Write(&b); err != nil {
		t.Fatal(err)
	}
	return drawn(t, b.Bytes(), options...)
}

// drawn are the pages of a PDF as poppler draws them, as portable grey maps one behind the other.
func drawn(t *testing.T, of []byte, options ...string) (out []*image.Gray) {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftoppm is not installed: make test installs poppler-utils")
	}
	pdf := filepath.Join(t.TempDir(), "sheets.pdf")
	if err := os.WriteFile(pdf, of, 0o644); err != nil {
		t.Fatal(err)
	}
	pages, err := exec.Command("pdftoppm", append(append([]string{"-gray"}, options...), pdf)...).Output()
	if err != nil {
		t.Fatalf("pdftoppm: %v", err)
	}
	for len(pages) > 0 {
		var w, h, most int
		if _, err := fmt.Sscanf(string(pages[:min(len(pages), 40)]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
			t.Fatal(err)
		}
		head := len(fmt.Sprintf("P5\n%d %d\n%d\n", w, h, most))
		out = append(out, &image.Gray{Pix: pages[head : head+w*h], Stride: w, Rect: image.Rect(0, 0, w, h)})
		pages = pages[head+w*h:]
	}
	return out
}

// black finds the first and last pixel darker than half along a row.
func black(img *image.Gray, y, x0, x1 int) (first, last int) {
	first, last = -1, -1
	for x := x0; x < x1; x++ {
		if img.GrayAt(x, y).Y < 128 {
			if first < 0 {
				first = x
			}
			last = x
		}
	}
	return first, last
}

// The line at the foot measures 100 mm on the page that poppler draws: PDF's unit is 1/72 inch (ISO 32000-1:2008, 8.3.2.3),
// so that 100 mm are 283.46 of them. The page itself is as large as its paper.
func TestHundredMillimetres(t *testing.T) {
	const dpi = 600
	for _, paper := range []Paper{A4, Letter} {
		page := rasters(t, begin(paper), "-r", "127")[0].Bounds() // 0.2 mm a pixel
		if w, h := float64(page.Dx())/5, float64(page.Dy())/5; math.Abs(w-paper.WidthMm) > 0.21 || math.Abs(h-paper.HeightMm) > 0.21 {
			t.Errorf("%s is drawn %.2f x %.2f mm", paper.Name, w, h)
		}
		row := int(math.Round((paper.HeightMm - footMm + 6) / 25.4 * dpi))
		half := int(math.Round((leftMm + CheckMm + 10) / 25.4 * dpi))
		strip := rasters(t, begin(paper), "-r", "600", "-x", "0", "-y", strconv.Itoa(row-5), "-W", strconv.Itoa(half), "-H", "10")[0]
		first, last := black(strip, 5, 0, half)
		// From the middle of the first stroke across to that of the last, which are 0.2 mm wide.
		if long := float64(last-first+1)*25.4/dpi - 0.2; math.Abs(long-100) > 0.1 {
			t.Errorf("%s: the check line is %.3f mm long", paper.Name, long)
		}
		t.Logf("%s: the check line is %.3f mm long", paper.Name, float64(last-first+1)*25.4/dpi-0.2)
	}
}

// A picture is as large on paper as its scale and the printed ratio say.
func TestPictureIsTrueToScale(t *testing.T) {
	const dpi = 300
	for _, c := range []struct {
		w, h    int
		pxPerCm float64
		ratio   float64
	}{
		{800, 500, 50, 1}, {1000, 700, 30, 2}, {1500, 1000, 20, 5}, {2000, 1000, 12, 10}, {1000, 800, 12, 5}, {1000, 900, 20, 2.74},
	} {
		s := begin(A4)
		s.Picture(Picture{JPEG: picture(t, c.w, c.h), PxPerCm: c.pxPerCm})
		row := int(math.Round((topMm + headMm + 10) / 25.4 * dpi))
		strip := rasters(t, s, "-r", "300", "-x", "0", "-y", strconv.Itoa(row-5), "-W", "2480", "-H", "10")[0]
		first, last := black(strip, 5, 0, strip.Bounds().Dx())
		want := float64(c.w) / c.pxPerCm * 10 / c.ratio
		if long := float64(last-first+1) * 25.4 / dpi; math.Abs(long-want) > 0.2+0.15 { // its thin frame stands out half its width
			t.Errorf("%d px at %g px/cm: %.2f mm on paper, want %.2f", c.w, c.pxPerCm, long, want)
		}
	}
}

func TestRatio(t *testing.T) {
	for _, c := range []struct {
		w, h          int
		pxPerCm, wide float64
		tall, want    float64
	}{
		{1000, 500, 100, 183, 200, 1},    // 100 mm
		{3660, 500, 100, 183, 200, 2},    // exactly
		{3661, 500, 100, 183, 200, 2.01}, // the next round one would fill 0.4 of the room
		{7000, 500, 100, 183, 200, 5},
		{100, 100, 0, 183, 200, 0},
		{10, 10, 100, 183, 200, 1}, // never larger than life
	} {
		if got := Ratio(c.w, c.h, c.pxPerCm, c.wide, c.tall); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("Ratio(%d, %d, %g) = %g, want %g", c.w, c.h, c.pxPerCm, got, c.want)
		}
	}
}

func everything(t *testing.T, paper Paper) *Sheets {
	s := begin(paper)
	s.Heading("Before you open it")
	s.Framed("Plaster and silica dust", []string{"Invented words that are long enough to be wrapped once or twice, since a frame has to keep them in one piece.", "Ask the person in charge."})
	s.Facts([][2]string{{"field top", "marked with an arrow"}, {"separator", "not recorded"}})
	long := strings.Repeat("a long diary line about a rib and its glue ", 60)
	s.Table(Table{Heads: []string{"day", "what", "by"}, Shares: []float64{1, 4, 1}, Rows: [][]string{
		{"2026-03-10", "cleaned", "TK"}, {"2026-03-11", long, "TK, MO"}, {"2026-03-12", "ⴰ covered ➤", "MO"},
	}})
	s.Ticks([]string{"opened from the marked side", "compared with the plate"})
	s.Pencil(3)
	s.Picture(Picture{JPEG: picture(t, 900, 600), PxPerCm: 12, Caption: "gridded"})
	s.Picture(Picture{JPEG: picture(t, 900, 600), MostTallMm: 60})
	return s
}

func TestSameCallsSameBytes(t *testing.T) {
	var want []byte
	for i := range 12 { // pictures of one width came in a random order
		s := everything(t, Letter)
		for h := range 4 {
			s.Picture(Picture{JPEG: picture(t, 400, 100+10*h), MostTallMm: 30})
		}
		var b bytes.Buffer
		if err := s.Write(&b); err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = b.Bytes()
		}
		if !bytes.Equal(b.Bytes(), want) {
			t.Fatalf("time %d: the bytes differ", i+1)
		}
	}
}

func TestPageNumbersAndText(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftotext is not installed: make test installs poppler-utils")
	}
	path := filepath.Join(t.TempDir(), "s.pdf")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := everything(t, A4).Write(file); err != nil {
		t.Fatal(err)
	}
	file.Close()
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
	for i, page := range pages {
		for _, want := range []string{"VC 07/26-B", "lab packet", "100 mm long"} {
			if !strings.Contains(page, want) {
				t.Errorf("page %d lacks %q", i+1, want)
			}
		}
	}
	if len(pages) < 2 || !strings.Contains(pages[1], "page 2 of ") {
		t.Errorf("%d pages, the second says %q", len(pages), pages[min(1, len(pages)-1)])
	}
	if n := strings.Count(string(out), "a long diary line about a rib and its glue") + strings.Count(string(out), "rib"); n < 60 {
		t.Errorf("the long cell lost words: %d of 60", n)
	}
	if !strings.Contains(string(out), "ⴰ covered ➤") {
		t.Error("letters of the second font are missing")
	}
}

// A sentence to be ticked off may be longer than a page: it goes on on the next.
func TestLongTickGoesOn(t *testing.T) {
	s := begin(A4)
	s.Ticks([]string{strings.Repeat("mend this row of the register ", 400)})
	if s.RoomMm() < 0 {
		t.Errorf("the text ends %.0f mm below the room of its page", -s.RoomMm())
	}
}
