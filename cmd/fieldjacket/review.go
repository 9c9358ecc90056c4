package main

import (
	"context"
	"fmt"

	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/review"
)

type reviewCommand struct {
	Dir  string `arg:"" help:"The season's folder."`
	Open bool   `help:"Open the page in this machine's browser."`
	Port int    `placeholder:"N" help:"Port on this machine. Default: a free one."`
}

func (reviewCommand) Help() string { return "Example: fieldjacket review season-2026" }

// Run serves the page until Ctrl-C.
func (c reviewCommand) Run(ctx context.Context, t terminal) error {
	if c.Port < 0 || c.Port > 65535 {
		return exit{exitUsage, "--port: want 1 to 65535"}
	}
	if _, err := open(c.Dir); err != nil {
		return err
	}
	program, err := children.Find()
	if err != nil {
		fmt.Fprintf(t.err, "fieldjacket: %v\n  so photos can be sorted, but none is processed and no plate drawn\n", err)
	}
	s, err := review.New(c.Dir, review.Options{Port: c.Port, Program: program})
	if err != nil {
		return exit{exitNothing, err.Error()}
	}
	fmt.Fprintf(t.out, "open this address in a browser on this machine; whoever has it can sort the season:\n  %s\nCtrl-C ends it. What was confirmed is kept in words.log.\n", s.URL())
	if c.Open {
		if err := openPage(s.URL()); err != nil {
			fmt.Fprintf(t.err, "fieldjacket: no browser could be opened (%v): open the address yourself\n", err)
		}
	}
	if err := s.Serve(ctx); err != nil {
		return exit{exitNothing, err.Error()}
	}
	return nil
}
