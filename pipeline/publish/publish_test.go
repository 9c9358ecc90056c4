package publish

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
)

// TestOnePaperThatFails: it is named and needs a person; all others are made.
func TestOnePaperThatFails(t *testing.T) {
	s := Season{Dir: folder.Dir(t.TempDir()), Sheets: &register.Register{Jackets: []register.Jacket{{Number: "14"}, {Number: ""}, {Number: "15"}}}}
	unlock, err := s.Dir.Lock()
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	w := &writer{Season: s}
	for _, j := range s.Sheets.Jackets { // one without a number has no labels; the register lets none through
		w.packets = append(w.packets, paperwork.Packet{Jacket: j})
	}
	if err := w.labels(context.Background()); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"labels/14.pdf", "labels/15.pdf"} {
		if !s.Dir.Has(file) {
			t.Errorf("%s was not made", file)
		}
	}
	if told := w.made.NotMade; len(told) != 1 || !strings.Contains(told[0], "without a number") || strings.Contains(told[0], "earlier run") {
		t.Errorf("told %q", told)
	}
	keys, err := filepath.Glob(s.Dir.Paper("records", "paper-*.key"))
	if err != nil || len(keys) != 2 {
		t.Errorf("%d papers count as made, %v; want 2", len(keys), err)
	}
}
