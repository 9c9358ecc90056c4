package pipeline

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
	s := &Season{Dir: folder.Dir(t.TempDir()), Register: &register.Register{Jackets: []register.Jacket{{Number: "14"}, {Number: ""}, {Number: "15"}}}}
	unlock, err := s.Dir.Lock()
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	out := &outcome{}
	for _, j := range s.Register.Jackets { // one without a number has no labels; the register lets none through
		out.papers = append(out.papers, paperwork.Packet{Jacket: j})
	}
	if err := s.labels(context.Background(), out); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"labels/14.pdf", "labels/15.pdf"} {
		if !s.Dir.Has(file) {
			t.Errorf("%s was not made", file)
		}
	}
	if told := out.summary.NotMade; len(told) != 1 || !strings.Contains(told[0], "without a number") || strings.Contains(told[0], "earlier run") || !out.summary.Person {
		t.Errorf("told %q, a person: %v", told, out.summary.Person)
	}
	keys, err := filepath.Glob(s.Dir.Paper("records", "paper-*.key"))
	if err != nil || len(keys) != 2 {
		t.Errorf("%d papers count as made, %v; want 2", len(keys), err)
	}
}
