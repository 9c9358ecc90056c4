package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/offload"
)

type checkCommand struct {
	Dir  string `arg:"" help:"The season's folder."`
	JSON bool   `help:"One JSON object per jacket, then what else needs a person."`
}

func (checkCommand) Help() string { return "Example: fieldjacket check season-2026" }

// Run prints the table. It ends with 3 when a view that is due is missing.
func (c checkCommand) Run(ctx context.Context, t terminal) error {
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	state, err := s.Check(ctx)
	if err != nil {
		return exit{exitUsage, err.Error()}
	}
	fresh := 0
	for _, r := range state.Records {
		if r.New {
			fresh++
		}
	}
	if c.JSON {
		if err := checkJSON(t.out, state.Report, noticeTexts(state), state.Copied, fresh); err != nil {
			return err
		}
	} else {
		printProblems(t.out, state)
		printReport(t.out, state.Report)
		printNotices(t.out, state)
		printCopied(t.out, state.Copied)
		if fresh > 0 {
			fmt.Fprintf(t.out, "\n%s not yet processed: fieldjacket run %s\n", count(fresh, "photo"), c.Dir)
		}
	}
	if state.Report.Incomplete() {
		return exit{code: exitPerson}
	}
	return nil
}

func checkJSON(w io.Writer, r audit.Report, notices []string, copied []offload.Copied, fresh int) error {
	lines := json.NewEncoder(w)
	for _, j := range r.Jackets {
		if err := lines.Encode(j); err != nil {
			return err
		}
	}
	return lines.Encode(map[string]any{"unsorted": r.Unsorted, "conflicts": r.Conflicts, "unreadable": r.Unreadable, "proposed": r.Proposed, "assumed": r.Assumed, "depths": r.Depths, "unscaled": r.Unscaled, "bare": r.Bare, "notices": notices, "copied": offload.ByPhone(copied),
		"not_looked_at": fresh})
}

// printReport prints one line a jacket, then what is missing, then the photos
// that need a person.
func printReport(w io.Writer, r audit.Report) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "JACKET\tSTAGE\tPHOTOS\tVIEWS\tREADY TO JACKET")
	for _, j := range r.Jackets {
		stage := string(j.Stage)
		if stage == "" {
			stage = "not recorded"
		}
		var views []string
		for _, v := range j.Views {
			views = append(views, fmt.Sprintf("%s: %s", v.View, v.State))
		}
		number := j.Number
		if len(j.Formerly) > 0 {
			number += " (formerly " + strings.Join(j.Formerly, ", ") + ")"
		}
		if j.From != "" {
			number += " (carried over: " + j.From + ")"
		}
		fmt.Fprintf(table, "%s\t%s\t%d\t%s\t%s\n", number, stage, j.Photos, strings.Join(views, ", "), coverText(j))
	}
	_ = table.Flush()
	for _, j := range r.Jackets {
		for _, v := range j.Lacks() {
			fmt.Fprintf(w, "\njacket %s, %s: %s", j.Number, v.View, v.Text)
		}
		for _, c := range j.Contradicted {
			fmt.Fprintf(w, "\njacket %s contradicts itself: %s: %s", j.Number, oneLine(c.File), oneLine(c.Reason))
		}
	}
	fmt.Fprintln(w)
	printLoose(w, "without a jacket", r.Unsorted)
	if len(r.Unsorted)+len(r.Conflicts) > 0 {
		defer fmt.Fprintln(w, "to settle them: fieldjacket review, or a line each in photos.csv")
	}
	printLoose(w, "with conflicting jacket numbers", r.Conflicts)
	printLoose(w, "proposed as chosen; a person's word chosen settles it", r.Proposed)
	printAssumed(w, r.Assumed)
	printDepths(w, r.Depths)
	for _, l := range r.Unreadable[:min(len(r.Unreadable), shown)] {
		fmt.Fprintf(w, "not readable: %s: %s\n", oneLine(l.File), oneLine(l.Reason))
	}
	if n := len(r.Unreadable) - shown; n > 0 {
		fmt.Fprintf(w, "not readable, and %d more; the page and --json name all\n", n)
	}
	printLoose(w, "without a scale", r.Unscaled)
	if r.Bare > 0 {
		fmt.Fprintf(w, "%s in which no reference is seen\n", count(r.Bare, "other photo"))
	}
}

// printAssumed tells which scales go by a size that nothing confirms, and what would.
func printAssumed(w io.Writer, all []audit.Assumed) {
	for _, a := range all {
		of := a.Reference
		if a.SetUp != "" {
			of += ", set-up " + a.SetUp
		}
		first := oneLine(a.Files[0])
		if n := len(a.Files); n > 1 {
			first += fmt.Sprintf(" and %d more", n-1)
		}
		fmt.Fprintf(w, "size only assumed, by season.toml alone: %s (%s): %s\n", of, first, a.Confirm)
	}
}

func coverText(j audit.Jacket) string {
	text := string(j.Cover)
	if j.CoverReason != "" && j.Cover != audit.CoverYes {
		text += ": " + j.CoverReason
	}
	return text
}

// shown is how many loose photos the terminal names.
const shown = 20

func printLoose(w io.Writer, what string, loose []audit.Loose) {
	if len(loose) == 0 {
		return
	}
	fmt.Fprintf(w, "%s %s:\n", count(len(loose), "photo"), what)
	for i, l := range loose {
		if i == shown {
			fmt.Fprintf(w, "  and %d more\n", len(loose)-shown)
			break
		}
		fmt.Fprintf(w, "  %s: %s\n", oneLine(l.File), oneLine(l.Reason))
	}
}

// count writes "1 photo", "2 photos".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func list(words []string) string { return strings.Join(words, ", ") }
