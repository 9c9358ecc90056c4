package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/offload"
)

type checkCommand struct {
	Dir  string `arg:"" help:"The season's folder."`
	JSON bool   `help:"One JSON object per jacket, then what else needs a person."`
	HTML string `name:"html" placeholder:"FILE" help:"Write the last day's page to a file for the crew's phones, and nothing else."`
}

func (checkCommand) Help() string {
	return "Example: fieldjacket check season-2026\nFor the phones: fieldjacket check season-2026 --html today.html"
}

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
	if c.HTML != "" {
		if err := s.WritePage(ctx, c.HTML); err != nil {
			return exit{exitUsage, err.Error()}
		}
		fmt.Fprintf(t.out, "%s: one file, to be handed on by cable or message\n", c.HTML)
		return incomplete(state.Report)
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
	return incomplete(state.Report)
}

// incomplete ends with 3 when something is missing.
func incomplete(r audit.Report) error {
	if r.Incomplete() {
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
	return lines.Encode(map[string]any{"unsorted": r.Unsorted, "conflicts": r.Conflicts, "unreadable": r.Unreadable, "proposed": r.Proposed, "proposed_views": r.ProposedViews, "assumed": r.Assumed, "depths": r.Depths, "unscaled": r.Unscaled, "bare": r.Bare, "notices": notices, "copied": offload.ByPhone(copied),
		"not_looked_at": fresh})
}

// count writes "1 photo", "2 photos".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func list(words []string) string { return strings.Join(words, ", ") }
