//go:build cgo

package vision

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"
)

// TestHEICIsLibheifs holds the pixels of a HEIC to those that libheif's own converter writes, of one that is laid out like a
// phone's and of one of fuller colours, and of sides that are odd. HEIC_PHOTO names one more.
func TestHEICIsLibheifs(t *testing.T) {
	tool := func(name string, args ...string) {
		t.Helper()
		if _, err := exec.LookPath(name); err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatalf("%s is missing: it makes the samples of this test", name)
			}
			t.Skipf("%s is missing: it makes the samples of this test", name)
		}
		if words, err := exec.Command(name, args...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v: %s", name, err, words)
		}
	}
	dir := t.TempDir()
	files := map[string]string{}
	for name, c := range map[string]struct {
		w, h int
		args []string
	}{"like a phone's": {640, 418, nil}, "odd sides": {637, 421, nil}, "full chroma": {320, 200, []string{"-p", "chroma=444"}}} {
		png := filepath.Join(dir, "in.png")
		m := coloured(c.w, c.h)
		gocv.IMWrite(png, m)
		m.Close()
		files[name] = filepath.Join(dir, name+".heic")
		tool("heif-enc", append(c.args, "-q", "90", png, "-o", files[name])...)
	}
	if file := os.Getenv("HEIC_PHOTO"); file != "" {
		files["given"] = file
	}
	for name, path := range files {
		file, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		got, _, err := decodeHEIF(file, 1e9)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		png := filepath.Join(dir, "out.png")
		tool("heif-convert", path, png)
		want := gocv.IMRead(png, gocv.IMReadColor|gocv.IMReadIgnoreOrientation)
		if got.Cols() != want.Cols() || got.Rows() != want.Rows() {
			t.Fatalf("%s: %d x %d px, by heif-convert %d x %d", name, got.Cols(), got.Rows(), want.Cols(), want.Rows())
		}
		if !bytes.Equal(got.ToBytes(), want.ToBytes()) {
			t.Errorf("%s: other pixels", name)
		}
		got.Close()
		want.Close()
	}
}
