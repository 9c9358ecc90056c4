package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"fieldjacket/pipeline/export/consent"
	"fieldjacket/pipeline/export/museum"
	"fieldjacket/pipeline/identity"
	"fieldjacket/pipeline/seasonfile"
)

type exportCommand struct {
	Museum museumCommand `cmd:"" help:"A Darwin Core archive of the finds, with plates and measurements, for a collections database."`
}

type museumCommand struct {
	Dir           string `arg:"" help:"The season's folder."`
	Out           string `short:"o" required:"" placeholder:"FILE.zip" help:"The archive to write."`
	WithPositions bool   `help:"With coordinates, names of localities, landowners, permits and ways in. CONFIDENTIAL is put into the file's name."`
}

func (museumCommand) Help() string {
	return "Example: fieldjacket export museum season-2026 -o season-2026.zip\n" +
		"It holds finds, plates, measurements and what is known of the photos, whose files are named by their SHA-256 and do not go along.\n" +
		"Without --with-positions it tells of no place but the locality's number. What it holds, lacks and withholds is printed, and\n" +
		"goes along as report.txt."
}

// Run writes the archive and says what is in it.
func (c museumCommand) Run(ctx context.Context, t terminal) error {
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	file := c.Out
	if c.WithPositions {
		file = confidential(file)
	}
	report, err := s.ExportMuseum(ctx, file, museum.Options{Positions: c.WithPositions})
	if err != nil {
		return exportFault(ctx, c.Dir, err)
	}
	fmt.Fprintf(t.out, "%s: %s", file, report.Text())
	printLeftOut(t, report.LeftOut)
	return nil
}

// printLeftOut says which plates are not in an export, and why.
func printLeftOut(t terminal, all []consent.LeftOut) {
	for i, l := range all {
		if i == 0 || all[i-1].Reason != l.Reason {
			fmt.Fprintf(t.out, "left out, since %s:\n", l.Reason)
		}
		fmt.Fprintf(t.out, "  %s\n", l.File)
	}
}

// confidential is a path with CONFIDENTIAL in the name of its file.
func confidential(path string) string {
	dir, name := filepath.Split(path)
	if strings.Contains(name, "CONFIDENTIAL") {
		return path
	}
	return dir + "CONFIDENTIAL-" + name
}

// exportFault says what to do about an export that failed.
func exportFault(ctx context.Context, dir string, err error) error {
	switch {
	case ctx.Err() != nil:
		return err
	case errors.Is(err, identity.ErrNoUUID):
		return exit{exitUsage, fmt.Sprintf("%s: nothing was written. Add these lines once, at the head of season.toml and before anything in [brackets], and export again:\n\n%s", identity.ErrNoUUID, seasonfile.UUIDLines())}
	}
	return exit{exitUsage, err.Error()}
}
