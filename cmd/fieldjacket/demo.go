package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/demo"
)

type demoCommand struct {
	Dir string `arg:"" help:"The folder to make; a demo that is there already is run again."`
}

func (demoCommand) Help() string { return "Example: fieldjacket demo demo" }

// Run writes the demo season, runs it, and ends with 0 when it came out as it
// was made to.
func (c demoCommand) Run(ctx context.Context, t terminal) error {
	fmt.Fprintf(t.out, "Writing an invented season to %s. Its photos are rendered, which takes a minute.\n", c.Dir)
	live := isTerminal(t.err)
	expected, err := demo.Write(ctx, c.Dir, func(done, of int) {
		if live {
			fmt.Fprintf(t.err, "\r\x1b[Krendering %d of %d", done, of)
		}
	})
	if live {
		fmt.Fprint(t.err, "\r\x1b[K")
	}
	if err != nil {
		if errors.Is(err, os.ErrExist) {
			return exit{exitUsage, err.Error()}
		}
		return err
	}
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	sum, state, err := runSeason(ctx, s, pipeline.RunOptions{}, false, t)
	if err != nil {
		return err
	}
	printProblems(t.out, state)
	printReport(t.out, state.Report)
	printNotices(t.out, state)
	printSummary(t.out, s, sum)
	if sum.NoVision {
		return exit{exitPerson, "the demo was run without the vision program: no photo was looked at"}
	}
	if off := differs(expected, sum, state.Report, noticeTexts(state)); len(off) > 0 {
		for _, line := range off {
			fmt.Fprintf(t.err, "not as designed: %s\n", line)
		}
		return exit{code: exitPerson}
	}
	fmt.Fprintf(t.out, "\nIt came out as designed: what is missing above is missing on purpose. Look first at\n"+
		"  %[1]s/paper/packets   one PDF a jacket\n  %[1]s/paper/plates    the figures\n  %[1]s/paper/days      what is missing, day by day\nand sort the rest:\n  bin/fieldjacket review %[1]s\n", c.Dir)
	return nil
}

// differs lists where a run is not what the demo was made to give.
func differs(want demo.Expected, sum pipeline.Summary, report audit.Report, notices []string) (off []string) {
	for _, n := range []struct {
		what      string
		want, got int
	}{
		{"photos", want.Photos, sum.Photos},
		{"scaled photos", want.Scaled, sum.Scaled},
		{"unreadable photos", want.Unreadable, sum.Unreadable},
		{"photos without a jacket", want.Unassigned, sum.Unassigned},
		{"photos with conflicting jacket numbers", want.Conflicts, sum.Conflicts},
		{"incomplete jackets", want.Incomplete, sum.Incomplete},
		{"faults of the register", 0, sum.Problems},
	} {
		if n.want != n.got {
			off = append(off, fmt.Sprintf("%d %s, made for %d", n.got, n.what, n.want))
		}
	}
	told := strings.Join(notices, "\n")
	for _, text := range want.Told {
		if !strings.Contains(told, text) {
			off = append(off, fmt.Sprintf("nothing told of %q", text))
		}
	}
	var lacking, ready []string
	for _, j := range report.Jackets {
		for _, v := range j.Lacks() {
			lacking = append(lacking, j.Number+": "+string(v.View))
		}
		if j.Cover == audit.CoverYes {
			ready = append(ready, j.Number)
		}
	}
	if !slices.Equal(lacking, want.Lacking) {
		off = append(off, fmt.Sprintf("lacking %q, made for %q", lacking, want.Lacking))
	}
	if !slices.Equal(ready, want.Ready) {
		off = append(off, fmt.Sprintf("ready to jacket %q, made for %q", ready, want.Ready))
	}
	return off
}
