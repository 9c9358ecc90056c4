package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestAKilledChildCostsNoPhoto: one that the system ends over a photo, as it does where memory is short, is asked once more and the
// photo is done; one that is ended each time is told as what it is, not as a photo that cannot be read.
func TestAKilledChildCostsNoPhoto(t *testing.T) {
	whole := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, whole)
	fieldjacket("run", "--children", "1", whole)
	want := files(t, filepath.Join(whole, "paper"))

	once := filepath.Join(t.TempDir(), "once")
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	meddling(t, "look", `if mkdir '`+once+`' 2>/dev/null; then kill -9 $$; exit; fi`)
	if code, out := fieldjacket("run", "--children", "1", dir); code != exitPerson || strings.Contains(out, "not looked at") {
		t.Errorf("ended once: exit %d: %s", code, out)
	}
	same(t, "run", want, files(t, filepath.Join(dir, "paper")))

	dir = filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	meddling(t, "look", "kill -9 $$; exit")
	code, out := fieldjacket("run", "--children", "1", dir)
	for _, says := range []string{"IMG_0001.JPG (ann): not looked at", "the photo needs more memory than the program could get", "close other programs and run again"} {
		if !strings.Contains(flat(out), says) {
			t.Errorf("want %q in: %s", says, out)
		}
	}
	if code != exitPerson || strings.Contains(out, "copy it from the phone") {
		t.Errorf("ended each time: exit %d: %s", code, out)
	}
}
