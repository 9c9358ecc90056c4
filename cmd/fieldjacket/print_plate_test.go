package main

import (
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/disintegration/imaging"

	"fieldjacket/overlay/sheet"
)

// TestThePhotoAsTakenFollowsThePlate in a printed PDF, marked as not to scale,
// and not a pale one, which is there to be drawn on.
func TestThePhotoAsTakenFollowsThePlate(t *testing.T) {
	dir := t.TempDir()
	seasonWithBoard(t, dir)
	pdftotext := tool(t, "pdftotext", "poppler-utils")
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("run: exit %d: %s", code, out)
	}
	const photo = "ann/jacket 14/gridded/IMG_0001.JPG"
	for name, c := range map[string]struct {
		args []string
		want bool
	}{"plain": {nil, true}, "pale": {[]string{"--pale"}, false}} {
		pdf := filepath.Join(t.TempDir(), "plate.pdf")
		if code, out := fieldjacket(append([]string{"print", "plate", dir, photo, "--scale", "1:5", "--out", pdf}, c.args...)...); code != 0 {
			t.Fatalf("%s: exit %d: %s", name, code, out)
		}
		text, err := exec.Command(pdftotext, pdf, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		words := strings.Join(strings.Fields(string(text)), " ")
		if got := strings.Contains(words, "the photo as taken, "+photo+"; not to scale"); got != c.want {
			t.Errorf("%s: the photo as taken is there: %v, want %v: %s", name, got, c.want, words)
		}
	}
}

// TestSheetsMakeThePlateAgain prints a plate at 1:1 on A3: the sheets, laid over each other as they say, are the plate again, point by
// point, and each has its check line (pipeline's own test measures it at 600 dpi).
func TestSheetsMakeThePlateAgain(t *testing.T) {
	dir := t.TempDir()
	seasonWithBoard(t, dir)
	pdftoppm := tool(t, "pdftoppm", "poppler-utils")
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("run: exit %d: %s", code, out)
	}
	print := func(args ...string) {
		t.Helper()
		if code, out := fieldjacket(append([]string{"print", "plate", dir, "ann/jacket 14/gridded/IMG_0001.JPG"}, args...)...); code != 0 {
			t.Fatalf("%v: exit %d: %s", args, code, out)
		}
	}
	pages := func(pdf string, options ...string) (out []*image.Gray) {
		t.Helper()
		drawn, err := exec.Command(pdftoppm, append(append([]string{"-gray"}, options...), pdf)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		for len(drawn) > 0 {
			var w, h, most int
			if _, err := fmt.Sscanf(string(drawn[:min(len(drawn), 40)]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
				t.Fatal(err)
			}
			head := len(fmt.Sprintf("P5\n%d %d\n%d\n", w, h, most))
			out = append(out, &image.Gray{Pix: drawn[head : head+w*h], Stride: w, Rect: image.Rect(0, 0, w, h)})
			drawn = drawn[head+w*h:]
		}
		return out
	}
	png, pdf := filepath.Join(dir, "plate.png"), filepath.Join(dir, "plate.pdf")
	print("--scale", "1:1", "--out", png)
	print("--scale", "1:1", "--paper", "A3", "--out", pdf)
	whole, err := imaging.Open(png)
	if err != nil {
		t.Fatal(err)
	}
	tag, err := exec.Command(tool(t, "exiftool", "libimage-exiftool-perl"), "-s3", "-n", "-XResolution", "-YResolution", "-ResolutionUnit", "-PixelsPerUnitX", "-PixelUnits", png).Output()
	if err != nil {
		t.Fatal(err)
	}
	var perMetre float64
	if _, err := fmt.Sscan(string(tag), &perMetre); err != nil { // PNG's pHYs: pixels per metre (ISO/IEC 15948, 11.3.5.3)
		t.Fatalf("the PNG does not say its resolution: %q", tag)
	}
	perMm := perMetre / 1000
	size := whole.Bounds().Size()
	tiles := sheet.PageParts(sheet.A3, float64(size.X)/perMm, float64(size.Y)/perMm)
	const drawnDPI = 127 // 5 px a mm
	drawn := pages(pdf, "-r", fmt.Sprint(drawnDPI))
	if len(drawn) != len(tiles)+2 || len(tiles) < 4 {
		t.Fatalf("%d pages for %d tiles: want the plan before and the photo as taken after", len(drawn), len(tiles))
	}
	small := imaging.Grayscale(imaging.Resize(whole, int(math.Round(float64(size.X)*5/perMm)), 0, imaging.Box))
	again := image.NewGray(small.Bounds())
	for i, page := range drawn {
		long := 0
		for y := page.Rect.Dy() - 5*18; y < page.Rect.Dy(); y++ {
			long = max(long, longestDark(page, y))
		}
		if long < 499 || long > 503 {
			t.Errorf("page %d: the check line is %.1f mm long", i+1, float64(long)/5)
		}
	}
	covered := make([]bool, len(again.Pix))
	for i, tile := range tiles {
		page := drawn[i+1]
		for y := range int(tile.Height * 5) {
			for x := range int(tile.Width * 5) {
				px, py := int(math.Round(tile.X*5))+x, int(math.Round(tile.Y*5))+y
				if !(image.Point{X: px, Y: py}).In(again.Rect) {
					continue
				}
				again.SetGray(px, py, page.GrayAt(int(math.Round(tile.AtX*5))+x, int(math.Round(tile.AtY*5))+y))
				covered[again.PixOffset(px, py)] = true
			}
		}
	}
	missing, off := 0, 0.0
	for y := range again.Rect.Dy() - 2 {
		for x := range again.Rect.Dx() - 2 {
			i := again.PixOffset(x, y)
			if !covered[i] {
				missing++
			}
			off += math.Abs(float64(again.Pix[i]) - float64(small.Pix[small.PixOffset(x, y)]))
		}
	}
	off /= float64(len(again.Pix))
	if missing > 0 || off > 1.7 { // the page is drawn with its own rounding
		t.Errorf("%d sheets laid over each other differ from the plate by %.2f grey steps, %d places missing", len(tiles), off, missing)
	}
	shifted := 0.0
	for y := range again.Rect.Dy() - 2 {
		for x := range again.Rect.Dx() - 4 {
			shifted += math.Abs(float64(again.Pix[again.PixOffset(x, y)]) - float64(small.Pix[small.PixOffset(x+2, y)]))
		}
	}
	if shifted /= float64(len(again.Pix)); shifted < 1.7 {
		t.Errorf("0.4 mm aside they differ by %.2f grey steps: the comparison is blind", shifted)
	}
}

// longestDark is the longest dark run of a row, px.
func longestDark(m *image.Gray, y int) (long int) {
	run := 0
	for x := range m.Rect.Dx() {
		if run++; m.GrayAt(x, y).Y > 140 {
			run = 0
		}
		long = max(long, run)
	}
	return long
}

// TestAPlateTakesNoOtherFilesPlace: neither a photo's nor a place among the photos nor that of a file made elsewhere.
func TestAPlateTakesNoOtherFilesPlace(t *testing.T) {
	dir := t.TempDir()
	seasonWithBoard(t, dir)
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("run: exit %d: %s", code, out)
	}
	const photo = "ann/jacket 14/gridded/IMG_0001.JPG"
	foreign := filepath.Join(t.TempDir(), "letter.pdf")
	if err := os.WriteFile(foreign, []byte("%PDF-1.4\na letter"), 0o644); err != nil {
		t.Fatal(err)
	}
	before := files(t, filepath.Join(dir, "photos"))
	for _, to := range []string{filepath.Join(dir, "photos", photo), filepath.Join(dir, "photos/ann/plate.pdf"), foreign} {
		code, out := fieldjacket("print", "plate", dir, photo, "--out", to)
		if code != exitNothing || !strings.Contains(out, "name another") {
			t.Errorf("%s: exit %d, want %d and to be told: %s", to, code, exitNothing, out)
		}
	}
	same(t, "print plate", before, files(t, filepath.Join(dir, "photos")))
	if now, err := os.ReadFile(foreign); err != nil || string(now) != "%PDF-1.4\na letter" {
		t.Errorf("the letter is %q now: %v", now, err)
	}
	again := filepath.Join(t.TempDir(), "plate.pdf")
	for range 2 {
		if code, out := fieldjacket("print", "plate", dir, photo, "--out", again); code != 0 {
			t.Errorf("its own PDF: exit %d: %s", code, out)
		}
	}
}
