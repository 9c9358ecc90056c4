package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestADamagedPhotoIsNotScaled: a part of its bytes is zero; it has no plate with a scale, is named with what to do, and the
// season is not done. A copy saved anew on another device would hide the damage, so that is not proposed.
func TestADamagedPhotoIsNotScaled(t *testing.T) {
	needsVision(t)
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	path := filepath.Join(dir, "photos/ann/jacket 14/gridded/IMG_0001.JPG")
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	clear(file[len(file)/2 : len(file)/2+2048])
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
	code, out := fieldjacket("run", dir)
	for _, says := range []string{"IMG_0001.JPG: not looked at: damaged photo: parts of its picture are lost or lie beside their place", "it is damaged there too"} {
		if !strings.Contains(flat(out), says) {
			t.Errorf("want %q in: %s", says, out)
		}
	}
	if code != exitPerson || strings.Contains(out, "save it anew") {
		t.Errorf("exit %d, want %d: %s", code, exitPerson, out)
	}
	if drawn, _ := filepath.Glob(filepath.Join(dir, "paper/plates/14/*IMG_0001*")); len(drawn) > 0 {
		t.Errorf("there are plates of it: %v", drawn)
	}
	code, out = fieldjacket("scale", "--checker", "9x7/2cm", path)
	if code != exitNothing || strings.Contains(out, "px/cm") || !strings.Contains(out, "damaged photo") {
		t.Errorf("scale: exit %d, want %d: %s", code, exitNothing, out)
	}
}
