package observe

import (
	"os"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/words"
)

// TestMarksThatAreNotReadAreNotNone: without the marks that were found the photo would lose its scale.
func TestMarksThatAreNotReadAreNotNone(t *testing.T) {
	p := Photo{Record: record.New("ann/IMG_0001.JPG"), Season: folder.Dir(t.TempDir()), Refs: []calibrate.Reference{{Kind: calibrate.KindBar}}}
	if found, err := p.Marks(); err != nil || len(found) != 1 {
		t.Errorf("not looked at: %v, %v", found, err)
	}
	if err := os.MkdirAll(p.marksPath(), 0o700); err != nil { // which no system reads as a file
		t.Fatal(err)
	}
	if found, err := p.Marks(); err == nil {
		t.Errorf("not read: %v", found)
	}
	h := words.ManualReference{Reference: p.Refs[0]}
	if found, err := p.FoundByHand(h); err != nil || found.Marks != nil {
		t.Errorf("not looked at by hand: %v, %v", found, err)
	}
	if err := os.MkdirAll(p.manualMarksPath(), 0o700); err != nil {
		t.Fatal(err)
	}
	if found, err := p.FoundByHand(h); err == nil {
		t.Errorf("not read: %v", found)
	}
}
