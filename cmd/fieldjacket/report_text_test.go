package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// TestLinesFitTheTerminal: whatever is said, no line is wider than the terminal, and nothing of it is lost.
func TestLinesFitTheTerminal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zé ]{0,20}([a-zé/_]{1,120} ?){0,8}`).Draw(t, "text")
		indent := rapid.IntRange(0, 12).Draw(t, "indent")
		lines := wrapped(text, 40, indent)
		var joined strings.Builder
		for i, line := range lines {
			if n := utf8.RuneCountInString(line); n > 40 {
				t.Fatalf("line %d of %q has %d columns", i, lines, n)
			}
			joined.WriteString(strings.ReplaceAll(line, " ", ""))
		}
		if joined.String() != strings.ReplaceAll(text, " ", "") {
			t.Fatalf("%q became %q", text, lines)
		}
	})
}

// TestCheckSaysNothingTwice: what can still be fixed stands first with its photo, its reason and what to do; the photo is not
// listed again, and a jacket under plaster takes one word.
func TestCheckSaysNothingTwice(t *testing.T) {
	report := audit.Report{
		Jackets: []audit.Jacket{
			{Number: "9", Stage: register.Lifted, Cover: audit.CoverDone, Standing: audit.Closed},
			{Number: "10", Stage: register.Mapped, Cover: audit.CoverYes, Standing: audit.Ready, Photos: 3},
			{Number: "11", Stage: register.Exposed, Cover: audit.CoverNo, Standing: audit.OnItsWay, Views: []audit.ViewState{{View: register.ViewGridded, DueFrom: register.Mapped, State: audit.NotDue}}},
			{Number: "12", Stage: register.Mapped, Cover: audit.CoverNo, Standing: audit.CanBeFixed, Fixes: []audit.Fix{
				{View: register.ViewGridded, What: "not scaled", Photo: "rka/jacket 12/IMG_0423.JPG", Why: "grid: a hand hid two strings", Do: "retake IMG_0423 squarer"}}},
		},
		Unscaled: []audit.Loose{{File: "rka/jacket 12/IMG_0423.JPG", Reason: "grid: a hand hid two strings: retake it squarer"}, {File: "b.jpg", Reason: "no grid"}},
		Unsorted: []audit.Loose{{File: "c.jpg", Reason: "two names"}}, Conflicts: []audit.Loose{{File: "c.jpg", Reason: "two names"}},
	}
	var out strings.Builder
	printReport(plainWriter{&out}, report)
	want := `CAN STILL BE FIXED, worst first
12    NOT READY: gridded not scaled; mapped
      IMG_0423.JPG (rka): grid: a hand hid two strings
      DO: retake IMG_0423 squarer

NOT READY YET, nothing overdue
11    not yet: exposed; still to take: gridded

READY TO JACKET
10    ready: mapped, 3 photos

Jacketed (1): 9

1 photo with conflicting jacket numbers:
  c.jpg: two names
to assign them: fieldjacket review, or a line each in photos.csv
1 photo without a scale:
  b.jpg: no grid
`
	if diff := cmp.Diff(want, out.String()); diff != "" {
		t.Error(diff)
	}
}
