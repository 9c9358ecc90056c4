package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/calibrate/placard"
)

// drawnPlacard prints one placard and has poppler draw its sheet at 300 dpi.
func drawnPlacard(t *testing.T, size PlacardSize, jacket string) image.Image {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm is not installed: make test installs poppler-utils")
		}
		t.Skip("pdftoppm is not installed: make test installs poppler-utils")
	}
	var pdf bytes.Buffer
	if err := WritePlacards(&pdf, A4, size, []string{jacket}); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "placard")
	if err := os.WriteFile(name+".pdf", pdf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-gray", "-png", "-r", "300", "-singlefile", name+".pdf", name).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	f, err := os.Open(name + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	page, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// TestPlacardIsRead the whole way round: printed, drawn by poppler, seen from
// the side by a camera with noise, read. Both codes of it, and right.
func TestPlacardIsRead(t *testing.T) {
	for i, c := range []struct {
		size   PlacardSize
		jacket string
	}{{PlacardFull, "14"}, {PlacardHalf, "VC 14/b"}, {PlacardLabel, "FF26-JK-0147"}, {PlacardFull, strings.Repeat("W", placard.MostLetters)}} {
		page := drawnPlacard(t, c.size, c.jacket)
		const wide, tall, slant = 1100, 1500, 0.2
		rng := rand.New(rand.NewPCG(1, uint64(i)))
		grey := make([]byte, wide*tall)
		w, h, left := float64(page.Bounds().Dx()), float64(page.Bounds().Dy()), 0.0
		if c.size == PlacardLabel { // nearer
			left, w, h = w/4, w/2, h/2
		}
		for y := range tall {
			for x := range wide {
				// A plane seen at a slant: further away at the right.
				u, v := (float64(x)-120)/850, (float64(y)-80)/1300
				f := 1 / (1 - slant*u)
				px, py := left+(1-slant)*u*f*w, (v-slant*u*0.5)*f*h
				level := 120.0
				if px >= left && py >= 0 && px < left+w && py < h {
					level = 40 + 0.7*float64(color.GrayModel.Convert(page.At(int(px), int(py))).(color.Gray).Y)
				}
				grey[y*wide+x] = uint8(min(255, max(0, level+2.5*rng.NormFloat64())))
			}
		}
		seen, _ := placard.Find(grey, wide, tall)
		for _, s := range seen {
			if s.Number != c.jacket {
				t.Errorf("%s of %s: read %q", c.size, c.jacket, s.Number)
			}
		}
		if len(seen) != 2 {
			t.Errorf("%s of %s: %d codes read, want both", c.size, c.jacket, len(seen))
		}
	}
}

// TestPlacardModules are 3 mm at least on a whole sheet, whatever the number
// in capitals.
func TestPlacardModules(t *testing.T) {
	for _, jacket := range []string{"14", strings.Repeat("W", placard.MostLetters)} {
		modules, err := placard.Draw(jacket)
		if err != nil {
			t.Fatal(err)
		}
		if mm := A4.HeightMm * placardShare / 2 / float64(len(modules)+2*placard.QuietModules); mm < 3 {
			t.Errorf("%s: modules of %.2f mm", jacket, mm)
		}
	}
}

func TestPlacardRefuses(t *testing.T) {
	for want, c := range map[string]struct {
		size    PlacardSize
		jackets []string
	}{
		"no jacket named":      {PlacardFull, nil},
		"want 1 to 24":         {PlacardFull, []string{"14", ""}},
		"want label, half":     {"A0", []string{"14"}},
		"no space before":      {PlacardFull, []string{" 14"}},
		"cannot be printed":    {PlacardFull, []string{"1\n4"}},
		"no font here has the": {PlacardFull, []string{"\U0001F9B4"}},
	} {
		if err := WritePlacards(&bytes.Buffer{}, A4, c.size, c.jackets); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want %q", c, err, want)
		}
	}
}
