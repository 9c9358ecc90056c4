package pipeline

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// TestChangedPaperStandsUntilItIsMadeAnew: a workbook that a person saved is not taken away by a run that then cannot begin, is
// replaced by one that can, and a packet that nobody wants any more goes although it was changed.
func TestChangedPaperStandsUntilItIsMadeAnew(t *testing.T) {
	dir := newSeason(t)
	shoot(t, dir, "tk/IMG_0001.JPG", 40)
	run(t, dir)
	book, packet := filepath.Join(dir, "paper/collection.xlsx"), filepath.Join(dir, "paper/packets/14.pdf")
	made, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	put(t, dir, "paper/collection.xlsx", "saved by a person")
	put(t, dir, "paper/packets/14.pdf", "saved by a person")
	if _, _, err := opened(t, dir).Run(context.Background(), RunOptions{Program: filepath.Join(dir, "no-such-program")}, quiet{}); err == nil {
		t.Error("a vision program that is not there starts")
	}
	if now, err := os.ReadFile(book); err != nil || string(now) != "saved by a person" {
		t.Errorf("the workbook after a run that did not begin: %q, %v", now, err)
	}
	put(t, dir, "finds.csv", "field_number,date,what,by\n15,2026-02-11,bone,AB\n")
	run(t, dir)
	if _, err := os.Stat(packet); err == nil {
		t.Error("the packet of a jacket that is no more is still there")
	}
	put(t, dir, "finds.csv", "field_number,date,what,by\n14,2026-02-11,bone,AB\n")
	run(t, dir)
	if now, err := os.ReadFile(book); err != nil || string(now) != string(made) {
		t.Errorf("the workbook is not as it was made (%v)", err)
	}
}
