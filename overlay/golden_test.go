package overlay

import (
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden images")

// How far a picture may differ from its golden: edges of letters are worked out in floating point, which machines fuse
// differently, so single grey steps differ; a moved or missing word differs by hundreds of pixels.
const (
	goldenStep  = 24    // of 255, per channel, not counted as different
	goldenShare = 0.001 // of all pixels may differ by more
)

// golden compares an image with testdata/golden/NAME.png. On failure it leaves what was drawn and where it differs in the
// folder of temporary files, and says where.
func golden(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", "golden", name+".png")
	if *update {
		savePNG(t, path, got)
		return
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	defer file.Close()
	want, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	if want.Bounds() != got.Rect {
		t.Fatalf("%s is %v, want %v", name, got.Rect, want.Bounds())
	}
	diff, count := image.NewGray(got.Rect), 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			w := color.RGBAModel.Convert(want.At(x, y)).(color.RGBA)
			g := got.RGBAAt(x, y)
			if max(apart(w.R, g.R), apart(w.G, g.G), apart(w.B, g.B)) > goldenStep {
				diff.SetGray(x, y, color.Gray{Y: 255})
				count++
			}
		}
	}
	if limit := int(goldenShare * float64(got.Rect.Dx()*got.Rect.Dy())); count > limit {
		folder, err := os.MkdirTemp("", "golden-"+name+"-")
		if err != nil {
			t.Fatal(err)
		}
		savePNG(t, filepath.Join(folder, "got.png"), got)
		savePNG(t, filepath.Join(folder, "diff.png"), diff)
		t.Errorf("%s: %d pixels differ, %d may; see %s", name, count, limit, folder)
	}
}

func apart(a, b uint8) int {
	if a > b {
		return int(a - b)
	}
	return int(b - a)
}

func savePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(file, img); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}
