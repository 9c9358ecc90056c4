package main

import (
	"context"
	"fmt"
	"strings"

	"fieldjacket/pipeline"
)

type bringCommand struct {
	Dir     string   `arg:"" help:"The folder of the season that goes on with them."`
	From    string   `arg:"" help:"The folder of the earlier season. It is only read."`
	Jackets []string `arg:"" help:"Their numbers then; NUMBER=NEW where a jacket, a find in it or its locality has another number now."`
	Again   bool     `help:"Replace what was brought before."`
}

func (bringCommand) Help() string {
	return "Example: fieldjacket bring season-2027 season-2026 14 15=26-15\n" +
		"What is brought lies in the folder earlier of the season: the rows, the diary's lines, the glues, what people said, plates and\n" +
		"small pictures. The photos themselves stay where they are and are named with their SHA-256. A number that this season\n" +
		"has too is refused, unless the row in its jackets sheet names the earlier season in the column carried_from."
}

// Run brings the jackets. It ends with 3 when photos of theirs have no plate that stands.
func (c bringCommand) Run(ctx context.Context, t terminal) error {
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	from, err := pipeline.Open(c.From)
	if err != nil {
		return exit{exitUsage, err.Error() + "\nwant the earlier season's folder, as it was left: fieldjacket bring SEASON EARLIER-SEASON JACKET"}
	}
	o := pipeline.BringOptions{Now: map[string]string{}, Again: c.Again}
	for _, text := range c.Jackets {
		was, now, renamed := strings.Cut(text, "=")
		was, now = strings.TrimSpace(was), strings.TrimSpace(now)
		if was == "" || renamed && now == "" {
			return exit{exitUsage, fmt.Sprintf("%q: want a jacket's number, or NUMBER=NEW", text)}
		}
		if renamed {
			o.Now[was] = now
		}
		if _, ok := from.Register.Jacket(was); ok || !renamed {
			o.Jackets = append(o.Jackets, was)
		}
	}
	if len(o.Jackets) == 0 {
		return exit{exitUsage, "no jacket of the earlier season is named"}
	}
	brought, err := s.Bring(ctx, from, o)
	if err != nil && ctx.Err() == nil {
		return exit{exitUsage, err.Error()}
	}
	incomplete := false
	for _, b := range brought {
		done := "is here already"
		if b.Changed {
			done = "brought"
		}
		name := b.String()
		if now := b.NowIs(b.Number); now != b.Number {
			name += ", here " + now
		}
		fmt.Fprintf(t.out, "%s: %s: %s, %s named, %s of the diary\n", name, done, count(b.Plates, "plate"), count(b.Photos, "photo"), count(len(b.Diary), "line"))
		if len(b.NoPlate) > 0 {
			incomplete = true
			fmt.Fprintf(t.out, "  %s without a plate that shows what that season says now: fieldjacket run %s, then bring it once more with --again: %s\n",
				count(len(b.NoPlate), "photo"), c.From, list(b.NoPlate[:min(len(b.NoPlate), shown)]))
		}
	}
	if incomplete {
		return exit{code: exitPerson}
	}
	return err
}
