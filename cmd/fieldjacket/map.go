package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/findmap"
	"fieldjacket/pipeline/publish"
)

type mapCommand struct {
	Dir   string `arg:"" help:"The season's folder."`
	Scale string `placeholder:"1:N" help:"Also at this scale: 1:5, 1:10, 1:20 or 1:50."`
	Paper string `placeholder:"PAPER" help:"With --scale: A4, A3, Letter or A1. Default: A4."`
	JSON  bool   `help:"The tables as one JSON object."`
}

func (mapCommand) Help() string {
	return "Example: fieldjacket map season-2026\nTo hang up: fieldjacket map season-2026 --scale 1:10 --paper A1\nIt places set-ups by season.toml's [quarry] and the sheets points and placements, and what was outlined by the photos."
}

// Run writes the map and prints its tables. It ends with 3 where something is not on the map or contradicts itself.
func (c mapCommand) Run(ctx context.Context, t terminal) error {
	sizes, err := c.sizes()
	if err != nil {
		return err
	}
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	m, made, err := s.Map(ctx, sizes)
	switch {
	case errors.Is(err, pipeline.ErrBusy):
		return exit{exitUsage, err.Error()}
	case err != nil && ctx.Err() == nil:
		return exit{exitNothing, err.Error()}
	case err != nil:
		return err
	case m == nil:
		return exit{exitUsage, c.Dir + "/season.toml has no [quarry]: say there which north the quarry's grid was laid by, and in the sheets points and placements where set-ups lie; fieldjacket new writes examples"}
	}
	tables := m.Tables()
	if c.JSON {
		if err := json.NewEncoder(t.out).Encode(map[string]any{"files": made.Maps, "tables": tables, "not_made": made.NotMade}); err != nil {
			return err
		}
	} else {
		for _, table := range tables {
			printTable(t.out, table)
		}
		for _, file := range made.Maps {
			fmt.Fprintf(t.out, "%s/paper/%s\n", strings.TrimSuffix(c.Dir, "/"), file)
		}
		for _, text := range made.NotMade {
			fmt.Fprintln(t.out, text)
		}
	}
	if len(m.NotPlaced) > 0 || len(m.Faults) > 0 || len(made.NotMade) > 0 || m.Adjustment != nil && len(m.Adjustment.Conflicts) > 0 {
		return exit{code: exitPerson}
	}
	return nil
}

func (c mapCommand) sizes() ([]publish.MapSize, error) {
	if c.Scale == "" {
		if c.Paper != "" {
			return nil, exit{exitUsage, "--paper: want --scale with it"}
		}
		return nil, nil
	}
	var z publish.MapSize
	for _, n := range findmap.Scales {
		if c.Scale == fmt.Sprintf("1:%g", n) {
			z.N = n
		}
	}
	if z.N == 0 {
		return nil, exit{exitUsage, fmt.Sprintf("--scale %q: want 1:5, 1:10, 1:20 or 1:50", c.Scale)}
	}
	for _, paper := range findmap.Papers {
		if strings.EqualFold(paper.Name, c.Paper) || c.Paper == "" && paper.Name == "A4" {
			z.Paper = paper
		}
	}
	if z.Paper.Name == "" {
		return nil, exit{exitUsage, fmt.Sprintf("--paper %q: want A4, A3, Letter or A1", c.Paper)}
	}
	return []publish.MapSize{z}, nil
}

// printTable prints a table with its columns under each other; the last column wraps at the terminal's end by itself.
func printTable(w io.Writer, t findmap.Table) {
	fmt.Fprintln(w, t.Title)
	for _, text := range t.Says {
		paragraphsTo(w).say(plain, "  "+text, "", 2)
	}
	rows := slices.Concat([][]string{t.Heads}, t.Rows)
	wide := make([]int, len(t.Heads))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], len([]rune(cell)))
		}
	}
	for _, row := range rows {
		line := " "
		for i, cell := range row {
			line += " " + cell
			if i < len(row)-1 {
				line += strings.Repeat(" ", wide[i]-len([]rune(cell))+1)
			}
		}
		if len(row) > 0 {
			fmt.Fprintln(w, strings.TrimRight(line, " "))
		}
	}
	fmt.Fprintln(w)
}
