package main

import (
	"fmt"

	"fieldjacket/pipeline/registerfile"
)

type newCommand struct {
	Dir string `arg:"" help:"The folder to make."`
	CSV bool   `name:"csv" help:"The sheets as CSV files instead of one workbook."`
}

func (newCommand) Help() string { return "Example: fieldjacket new season-2026" }

// Run writes the template.
func (c newCommand) Run(t terminal) error {
	if err := registerfile.Template(c.Dir, c.CSV); err != nil {
		return exit{exitUsage, err.Error()}
	}
	fmt.Fprintf(t.out, "%s is ready: fill in season.toml and the sheets, copy each phone's photos into photos/, then\n  fieldjacket run %s\n", c.Dir, c.Dir)
	return nil
}
