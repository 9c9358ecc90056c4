package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestDamagedPaperIsMadeAnew and named, wherever in the file the damage lies; what was not damaged is left alone.
func TestDamagedPaperIsMadeAnew(t *testing.T) {
	needsVision(t)
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	paper := filepath.Join(dir, "paper")
	fieldjacket("run", dir)
	before := files(t, paper)
	var damaged []string
	for i, kind := range []string{"plates/14/*.jpg", "previews/*.small.jpg", "previews/IMG_0001*.jpg", "records/*.marks.json", "packets/14.pdf", "labels/14.pdf", "days/*", "truck-list.pdf", "collection.xlsx"} {
		found, err := filepath.Glob(filepath.Join(paper, kind))
		if err != nil || len(found) == 0 {
			t.Fatalf("%s: %v", kind, err)
		}
		path := found[0]
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if i%2 == 0 {
			content[len(content)/2] ^= 0x55
		} else {
			content = content[:len(content)/3]
		}
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
		damaged = append(damaged, strings.TrimPrefix(path, dir+"/"))
	}
	_, out := fieldjacket("run", dir)
	for _, file := range damaged {
		if !strings.Contains(out, file+" was damaged since it was written: replaced") {
			t.Errorf("%s is not named: %s", file, out)
		}
	}
	same(t, "made anew", before, files(t, paper))
	if _, out := fieldjacket("run", dir); strings.Contains(out, "damaged") || !strings.Contains(out, "0 photos, 0 plates, 0 packets") {
		t.Errorf("the run after that: %s", out)
	}
}
