package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
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
