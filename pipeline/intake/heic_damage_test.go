package intake_test

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/pipeline/container"
	"fieldjacket/pipeline/intake"
)

// TestHEICWithALostBlockIsRefused: a picture by another program's coder is taken; with zeros in it, or with the rest of the file
// moved up, it is not. A card is written in blocks of 512 bytes or a multiple.
func TestHEICWithALostBlockIsRefused(t *testing.T) {
	root := t.TempDir()
	noise := image.NewNRGBA(image.Rect(0, 0, 320, 240))
	rng := rand.New(rand.NewPCG(4, 4))
	for i := range noise.Pix {
		noise.Pix[i] = byte(rng.Uint32()) | byte(i%4/3*0xFF)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, noise); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(root, "a.png"), b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	tool(t, "heif-enc", "-q", "80", filepath.Join(root, "a.png"), "-o", filepath.Join(root, "a.heic"))
	whole, err := os.ReadFile(filepath.Join(root, "a.heic"))
	if err != nil {
		t.Fatal(err)
	}
	if photo, _, err := intake.Read(root, "a.heic", nil); err != nil || !photo.Intact || len(whole) < 1<<14 {
		t.Fatalf("%d bytes, undamaged: %v", len(whole), err)
	}
	for range 200 {
		at, n := 2048+rng.IntN(len(whole)-2048-4096), []int{8, 64, 512, 4096}[rng.IntN(4)]
		zeros := bytes.Clone(whole)
		clear(zeros[at : at+n])
		for name, file := range map[string][]byte{"zeros": zeros, "moved up": append(bytes.Clone(whole[:at]), whole[at+n:]...)} {
			if err := os.WriteFile(filepath.Join(root, "b.heic"), file, 0o644); err != nil {
				t.Fatal(err)
			}
			if _, _, err := intake.Read(root, "b.heic", nil); !errors.Is(err, container.ErrDamaged) {
				t.Errorf("%s, %d bytes at %d of %d: %v", name, n, at, len(whole), err)
			}
		}
	}
}
