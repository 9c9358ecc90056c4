package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/missing"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

type runCommand struct {
	Dir      string `arg:"" help:"The season's folder."`
	Children int    `placeholder:"N" help:"Photos processed at once. Default: one per core."`
	DryRun   bool   `help:"Say what would be done, and do nothing."`
	JSON     bool   `help:"One JSON object per photo, then a summary."`

	PhotosGone    bool `help:"Go on though far fewer photos, or carried jackets, are there than the last run knew: their paper goes too."`
	WordsRestored bool `help:"Go on though words.log has lost decisions that the last run knew."`

	ReferencesGone bool `help:"Go on though season.toml no longer names references that the last run knew: photos lose the scale that they have by them."`
}

func (runCommand) Help() string { return "Example: fieldjacket run season-2026" }

// Run does the main job. It ends with 3 when something needs a person.
func (c runCommand) Run(ctx context.Context, t terminal) error {
	if c.Children < 0 || c.Children > 64 {
		return exit{exitUsage, "--children: want 1 to 64"}
	}
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	if c.DryRun {
		return dryRun(ctx, s, t)
	}
	accepted := missing.Accepted{PhotosGone: c.PhotosGone, WordsRestored: c.WordsRestored, ReferencesGone: c.ReferencesGone}
	sum, state, err := runSeason(ctx, s, pipeline.RunOptions{Children: c.Children, Accepted: accepted}, c.JSON, t)
	if err != nil {
		return err
	}
	if c.JSON {
		if err := json.NewEncoder(t.out).Encode(map[string]any{"summary": sum, "notices": noticeTexts(state)}); err != nil {
			return err
		}
	} else {
		printProblems(t.out, state)
		printReport(t.out, state.Report)
		printNotices(t.out, state)
		printSummary(t.out, s, sum)
	}
	if sum.Person {
		return exit{code: exitPerson}
	}
	return nil
}

// open reads the season's register; a folder that holds none is a matter of
// usage.
func open(dir string) (*pipeline.Season, error) {
	s, err := pipeline.Open(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, exit{exitUsage, err.Error() + "\nmake a season's folder with: fieldjacket new " + dir}
	}
	if err != nil {
		return nil, exit{exitUsage, err.Error()}
	}
	return s, nil
}

// runSeason runs the season with the vision program where there is one.
func runSeason(ctx context.Context, s *pipeline.Season, o pipeline.RunOptions, asJSON bool, t terminal) (pipeline.Summary, pipeline.State, error) {
	program, err := children.Find()
	if err != nil {
		fmt.Fprintf(t.err, "fieldjacket: %v\n  so no photo is processed and no plate drawn; tables, check and packets are made all the same\n", err)
	}
	show := &progress{to: t.err, out: t.out, json: asJSON, live: isTerminal(t.err)}
	o.Program = program
	sum, state, err := s.Run(ctx, o, show)
	show.end()
	if errors.Is(err, pipeline.ErrBusy) || errors.Is(err, pipeline.ErrLess) || errors.Is(err, register.ErrUnread) {
		return sum, state, exit{exitUsage, err.Error()}
	}
	if err != nil && ctx.Err() == nil {
		return sum, state, exit{exitNothing, startHint(err)}
	}
	return sum, state, err
}

func printProblems(w io.Writer, state pipeline.State) {
	if len(state.Problems) == 0 {
		return
	}
	fmt.Fprintf(w, "The register has %s:\n", count(len(state.Problems), "fault"))
	for _, p := range state.Problems {
		paragraphsTo(w).say(plain, "  "+p.Error(), "", 4)
	}
	fmt.Fprintln(w)
}

// printNotices prints what is to be looked into of phones, tracks and places.
func printNotices(w io.Writer, state pipeline.State) {
	p := paragraphsTo(w)
	for i, text := range noticeTexts(state) {
		if i == 0 {
			p.say(head, "check these:", "", 0)
		}
		p.say(plain, "  "+text, "", 4)
	}
}

func noticeTexts(state pipeline.State) []string {
	texts := []string{}
	for _, n := range state.Notices {
		texts = append(texts, n.Text)
	}
	return texts
}

func printSummary(w io.Writer, s *pipeline.Season, sum pipeline.Summary) {
	fmt.Fprintf(w, "\n%s: %d scaled, %d unreadable, %d without a jacket", count(sum.Photos, "photo"), sum.Scaled, sum.Unreadable, sum.Unassigned)
	if sum.Counted > 0 {
		fmt.Fprintf(w, "; %d of them only counted", sum.Counted)
	}
	if sum.NotPhotos > 0 {
		fmt.Fprintf(w, "; %s", count(sum.NotPhotos, "other file"))
	}
	if n := len(sum.Copies); n > 0 {
		fmt.Fprint(w, "\ncounted once:")
		for _, text := range sum.Copies[:min(n, shown)] {
			fmt.Fprintf(w, "\n  %s", oneLine(text))
		}
		if n > shown {
			fmt.Fprintf(w, "\n  and %d more", n-shown)
		}
	}
	for _, file := range sum.Damaged {
		fmt.Fprintf(w, "\npaper/%s was damaged since it was written: %s", file, remade(sum.NoVision))
	}
	for _, why := range slices.Concat(sum.NoPlate, sum.NotMade) {
		fmt.Fprintf(w, "\n%s", oneLine(why))
	}
	fmt.Fprintf(w, "\nupdated: %s, %s, %s\n", count(sum.Redone, "photo"), count(sum.Drawn, "plate"), count(sum.Packets, "packet"))
	if sum.Photos == 0 {
		fmt.Fprintf(w, "no photos yet: copy each phone's into a folder of its own below %s/photos, then run again\n", s.Dir)
	}
	fmt.Fprintf(w, "output in: %s/paper: plates, packets, labels, locality, days, truck-list.pdf, collection.xlsx\n", s.Dir)
}

// remade says what became of a damaged file.
func remade(noVision bool) string {
	if noVision {
		return "replaced, unless that takes the vision program"
	}
	return "replaced"
}

// dryRun says what a run would look at anew.
func dryRun(ctx context.Context, s *pipeline.Season, t terminal) error {
	state, err := s.Check(ctx)
	if err != nil {
		return exit{exitUsage, err.Error()}
	}
	fresh := 0
	for _, r := range state.Records {
		if r.New {
			fresh++
			fmt.Fprintf(t.out, "would process %s: %s\n", oneLine(r.Photo.File), oneLine(belongsText(r)))
		}
	}
	fmt.Fprintf(t.out, "%s, %d of them not yet processed; would write %s below %s/paper\n", count(len(state.Records), "photo"), fresh, count(len(s.Register.Jackets), "packet"), s.Dir)
	printProblems(t.out, state)
	return nil
}

func belongsText(r *record.Record) string {
	if len(r.Belongs.Jackets) == 0 {
		return "no jacket (" + r.Belongs.Reason + ")"
	}
	text := "jacket " + list(r.Belongs.Jackets)
	if r.Belongs.View != "" {
		text += ", " + string(r.Belongs.View)
	}
	return text + " (" + r.Belongs.Reason + ")"
}
