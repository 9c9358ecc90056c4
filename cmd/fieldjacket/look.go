package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/children"
)

type lookCommand struct {
	Dir      string `arg:"" help:"The season's folder, which several machines may share."`
	Part     string `required:"" placeholder:"K/N" help:"Which share of the photos: 3/16 is the third of sixteen. By a photo's path alone, so the shares hold whichever machine asks."`
	Children int    `placeholder:"N" help:"Photos processed at once. Default: one per core."`
	JSON     bool   `help:"One JSON object at the end."`
}

func (lookCommand) Help() string {
	return `Looking at photos is most of the work of a run, and no photo needs another for it. So many machines that share a folder can do it, each its part; then
"fieldjacket run" on one of them does the rest, with the same result as alone. Parts may run at once, be repeated, and be broken off.

Example: for k in 1 2 3 4; do fieldjacket look backlog --part $k/4 & done; wait; fieldjacket run backlog`
}

// Run looks at one part of a season's photos.
func (c lookCommand) Run(ctx context.Context, t terminal) error {
	part, err := parsePart(c.Part)
	if err != nil {
		return exit{exitUsage, "--part: " + err.Error()}
	}
	if c.Children < 0 || c.Children > 64 {
		return exit{exitUsage, "--children: want 1 to 64"}
	}
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	program, err := children.Find()
	if err != nil {
		return exit{exitNothing, err.Error()}
	}
	show := &progress{to: t.err, out: t.out, live: isTerminal(t.err)}
	sum, err := s.Look(ctx, part, pipeline.RunOptions{Children: c.Children, Program: program}, show)
	show.end()
	if errors.Is(err, pipeline.ErrBusy) {
		return exit{exitUsage, err.Error()}
	}
	if err != nil {
		if ctx.Err() == nil {
			err = exit{exitNothing, startHint(err)}
		}
		return err
	}
	if c.JSON {
		return json.NewEncoder(t.out).Encode(map[string]any{"part": c.Part, "summary": sum})
	}
	fmt.Fprintf(t.out, "part %d of %d: %s, %d looked at now, %d unreadable\nwhen all parts are done: fieldjacket run %s\n", part.K, part.N, count(sum.Photos, "photo"), sum.Anew, sum.Unread, c.Dir)
	return nil
}

// parsePart reads K/N.
func parsePart(text string) (p pipeline.Part, err error) {
	k, n, ok := strings.Cut(text, "/")
	if p.K, err = strconv.Atoi(k); ok && err == nil {
		p.N, err = strconv.Atoi(n)
	}
	if !ok || err != nil {
		return p, fmt.Errorf("%q: want K/N, such as 3/16", text)
	}
	return p, p.Valid()
}
