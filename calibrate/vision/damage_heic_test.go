//go:build cgo

package vision

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision/imagefile"
)

// TestDamagedHEICsAreNotMeasuredWrongly: as [TestDamagedPhotosAreNotMeasuredWrongly], of HEICs whose rows of blocks are coded one by
// one, as phones do, and in one run. Of the first kind, in which each row has an end that can be looked for, none is taken.
func TestDamagedHEICsAreNotMeasuredWrongly(t *testing.T) {
	OneThread()
	c := manualCases(12)["card"]
	img, truth := c.scene.Render()
	segments := truth.Planes[0].Segments(40, 0, rand.New(rand.NewPCG(3, 3)))
	path := filepath.Join(t.TempDir(), "a.heic")
	source := look.Source{Path: path, Format: "heic", Orientation: 1, WidthPx: img.Bounds().Dx(), HeightPx: img.Bounds().Dy(), Focal35Mm: 26}
	kinds := map[string][]byte{}
	wholes := map[string]gocv.Mat{}
	for name, rows := range map[string]string{"row by row": "1", "in one run": "0"} {
		kinds[name] = encodedFrom(t, img, "a.heic", "heif-enc", func(in, out string) []string {
			return []string{"-q", "92", "-p", "x265:wpp=" + rows, in, "-o", out}
		})
		whole, _, err := imagefile.Decode(kinds[name], source)
		if err != nil {
			t.Fatal(err)
		}
		defer whole.Close()
		wholes[name] = whole
		if err := os.WriteFile(path, kinds[name], 0o600); err != nil {
			t.Fatal(err)
		}
		if off, n := worstMiss(t, source, c.ref, whole, segments); n < len(segments)/2 || off > 1 {
			t.Fatalf("%s, undamaged: %d lengths, off by %.2f of what is allowed", name, n, off)
		}
	}
	rng := rand.New(rand.NewPCG(9, 9))
	for n := range 48 {
		kind, damage := "row by row", []string{"zeroed", "foreign", "exchanged", "flipped"}[n%4]
		if n >= 36 {
			kind = "in one run"
		}
		file := damages[damage](bytes.Clone(kinds[kind]), 4096, rng)
		if bytes.Equal(file, kinds[kind]) {
			continue
		}
		if err := os.WriteFile(path, file, 0o600); err != nil {
			t.Fatal(err)
		}
		if kind == "in one run" {
			if off, n := worstMiss(t, source, c.ref, wholes[kind], segments); off > 1 {
				t.Errorf("%s, %s: of %d lengths the worst is off by %.2f of what is allowed", kind, damage, n, off)
			}
			continue
		}
		raw, _, err := imagefile.Decode(file, source)
		if err == nil {
			raw.Close()
		}
		if !errors.Is(err, imagefile.ErrDamaged) && !errors.Is(err, imagefile.ErrNotDecoded) {
			t.Errorf("%s, %s: %v", kind, damage, err)
		}
	}
}
