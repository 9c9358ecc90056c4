package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"fieldjacket/pipeline/offload"
)

type copyCommand struct {
	From   string `arg:"" help:"Where the phone or card is mounted, or any folder. It is only read."`
	Dir    string `arg:"" help:"The season's folder."`
	As     string `required:"" placeholder:"NAME" help:"The folder below photos/ for this phone, such as its owner's initials."`
	Second string `placeholder:"DRIVE" help:"A drive that gets the same, below the name of the season's folder."`
	JSON   bool   `help:"One JSON object per file, then a summary."`
}

func (copyCommand) Help() string {
	return "Example: fieldjacket copy /media/rka/DCIM season-2026 --as rka --second /media/backup\n\n" +
		"Photos, films and their sidecars that are not there yet, by content, are copied into photos/NAME, flushed, read back from the\n" +
		"disk and compared. Another photo of the same name gets a name beside it; nothing is overwritten. Folders made by a camera\n" +
		"(DCIM, 100APPLE) are left out of the names, others are kept. After a pulled cable run the same line again."
}

// Run copies, and ends with 0 only when all is where it should be.
func (c copyCommand) Run(ctx context.Context, t terminal) error {
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	show := &progress{to: t.err, live: isTerminal(t.err)}
	r, tale, err := offload.CopyInto(ctx, s.Dir, s.Register.Season, offload.Into{From: c.From, As: c.As, Second: c.Second}, show)
	show.end()
	if err != nil && ctx.Err() == nil {
		return exit{exitUsage, err.Error()}
	}
	if err == nil && len(r.Files)+len(r.Unread) == 0 {
		return exit{exitNothing, fmt.Sprintf("%s holds no photo or film%s: is the phone unlocked, and set to hand over files", c.From, leftText(r.Left))}
	}
	if c.JSON {
		if err := copyJSON(t.out, r, tale); err != nil {
			return err
		}
	} else {
		printCopy(t.out, c, r, tale)
	}
	return errors.Join(err, copyExit(r, tale))
}

// copyExit is 3 when a person has to look, and 1 when nothing at all is anywhere.
func copyExit(r offload.Result, tale offload.Summary) error {
	whole, some := len(tale.Damaged) == 0, false
	for i := range r.Places {
		whole = whole && r.All(i)
		some = some || r.Verified(i) > 0
	}
	switch {
	case whole:
		return nil
	case !some:
		return exit{code: exitNothing}
	}
	return exit{code: exitPerson}
}

func copyJSON(w io.Writer, r offload.Result, tale offload.Summary) error {
	lines := json.NewEncoder(w)
	for _, f := range r.Files {
		if err := lines.Encode(f); err != nil {
			return err
		}
	}
	days := []map[string]any{}
	for _, c := range tale.PerDay {
		days = append(days, map[string]any{"phone": c.Phone.String(), "day": c.Day, "photos": c.Photos})
	}
	gaps := []string{}
	for _, g := range tale.Gaps {
		gaps = append(gaps, g.String())
	}
	places := []map[string]any{}
	for i, p := range r.Places {
		places = append(places, map[string]any{"place": p, "files": len(r.Files), "verified": r.Verified(i), "all": r.All(i)})
	}
	return lines.Encode(map[string]any{"places": places, "days": days, "without_a_day": tale.Undated, "missing_numbers": gaps,
		"damaged": tale.Damaged, "unread": r.Unread, "left": r.Left, "gone": r.Gone})
}
