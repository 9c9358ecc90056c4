package pipeline

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/publish"
)

// TestRecipes holds the steps and their recipes in order. Every record on a
// disk out there was made by these: a change here makes the next run of every
// season do that stage anew, so it is made on purpose or not at all.
func TestRecipes(t *testing.T) {
	var got []string
	for _, s := range append(append([]step{}, readSteps...), photoSteps...) {
		line := fmt.Sprintf("%s %d", s.name, s.recipe)
		if s.reads != nil {
			line += ", kept"
		}
		if s.stands != nil {
			line += ", writes"
		}
		if s.sees {
			line += ", sees"
		}
		got = append(got, line)
	}
	want := []string{"read 1", "look 18, kept, writes, sees", "refine 2, kept, writes, sees", "fit 9, kept", "draw 6, kept, writes"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("steps of a photo (- want, + got):\n%s", d)
	}
	got = nil
	for _, s := range settledSteps {
		got = append(got, s.name)
	}
	if d := cmp.Diff([]string{"fit", "draw"}, got); d != "" {
		t.Errorf("steps of a photo of which other photos settled something late (- want, + got):\n%s", d)
	}
	got = []string{fmt.Sprintf("paper %d", publish.Recipe)}
	for _, s := range seasonSteps {
		got = append(got, s.name)
	}
	got = append(got, publish.Documents()...)
	if d := cmp.Diff([]string{"paper 20", "tidy", "audit", "packets", "labels", "truck list", "workbook", "localities", "days", "map"}, got); d != "" {
		t.Errorf("steps of a season (- want, + got):\n%s", d)
	}
}
