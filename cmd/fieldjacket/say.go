package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/words"
)

type sayCommand struct {
	Dir   string `arg:"" help:"The season's folder."`
	About string `arg:"" optional:"" help:"What it is about: 'photo rka/IMG_0421', 'photos rka/IMG_0430-0436', 'jacket 23B', 'setup S1', or undo."`
	What  string `arg:"" optional:"" help:"What is said: jackets, view, setup, caption, chosen, leave_out, no_scale, 'waiver gridded', 'depth B3' ...; after undo the line's number."`
	Value string `arg:"" optional:"" help:"The value; left out, what was said before is taken back."`
	By    string `placeholder:"INITIALS" help:"Who says so."`
}

func (sayCommand) Help() string {
	return "Example: fieldjacket say season-2026 --by RKA 'photo rka/IMG_0421' jackets '21; 22'\n" +
		"Without anything said it lists the words with their line numbers; 'undo 12' takes line 12 back."
}

// Run appends one word to words.log, or lists them.
func (c sayCommand) Run(ctx context.Context, t terminal) error {
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	if c.About == "" {
		for _, l := range s.Words.Lines {
			tellLine(t, l)
		}
		return nil
	}
	w, err := c.word(ctx, s)
	if err != nil {
		return exit{exitUsage, err.Error()}
	}
	lines, err := s.Say(ctx, w)
	if err != nil {
		return exit{exitUsage, err.Error()}
	}
	tellLine(t, lines[0])
	return nil
}

// word makes the word of the command line, at this moment in the season's zone.
func (c sayCommand) word(ctx context.Context, s *pipeline.Season) (words.Word, error) {
	now := time.Now()
	if zone := s.Register.Season.Zone; zone != nil {
		now = now.In(zone)
	}
	if c.About == string(words.Undo) {
		number, err := strconv.Atoi(c.What)
		if err != nil {
			return words.Word{}, fmt.Errorf("undo %q: want a line's number, see fieldjacket say %s", c.What, c.Dir)
		}
		line, ok := s.Words.Line(number)
		if !ok {
			return words.Word{}, fmt.Errorf("undo %d: words.log has no word in that line", number)
		}
		return line.Undo(now, c.By), nil
	}
	w := words.Word{At: now, By: c.By, Value: c.Value}
	var err error
	if name, ok := strings.CutPrefix(c.About, words.AboutPhoto+" "); ok {
		if file, found, err := s.PhotoNamed(ctx, name); err != nil {
			return w, err
		} else if found {
			name = file
		}
		w.About = words.Photo(name)
	} else if w.About, err = words.ParseAbout(c.About); err != nil {
		return w, err
	}
	w.What, w.Name, err = words.ParseWhat(c.What)
	return w, err
}

func tellLine(t terminal, l words.Line) {
	undone := ""
	if l.Undone {
		undone = " (undone)"
	}
	fmt.Fprintf(t.out, "line %d, %s, %s: %s, %s: %s%s\n", l.Number, l.At.Format("2006-01-02 15:04"), l.By, l.About, strings.TrimSpace(string(l.What)+" "+l.Name), l.Value, undone)
}
