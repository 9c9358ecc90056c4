package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"fieldjacket/pipeline"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

type sayCommand struct {
	Dir   string `arg:"" help:"The season's folder."`
	About string `arg:"" optional:"" help:"What it is about: 'photo rka/IMG_0421', 'photos rka/IMG_0430-0436', 'jacket 23B', 'find 21', 'setup S1', or undo."`
	What  string `arg:"" optional:"" help:"What is said: jackets, view, setup, caption, chosen, leave_out, no_scale, 'waiver gridded', 'depth B3' ..., see above; after undo the line's number."`
	Value string `arg:"" optional:"" help:"The value; left out, what was said before is taken back."`
	By    string `placeholder:"INITIALS" help:"Who says so."`
}

func (sayCommand) Help() string {
	return `Example: fieldjacket say season-2026 --by RKA 'photo rka/IMG_0421' jackets '21; 22'

Without a decision it lists those recorded, with their line numbers; undo 12 takes line 12 back.

What can be said, and its value. Places are x,y in pixels of the upright photo; lengths carry their unit.

  of photos
  jackets           '21; 22', or none: it shows no jacket
  view, setup       gridded, S1, or none; view also proposed: what check proposes for each, also of 'jacket 14'
  caption           any text
  chosen, leave_out yes or no
  no_scale          'yes: why', or no
  'release people'  yes: whoever can be told in it agrees that it is shown; 'release setting': so may the surroundings
  of one photo
  reference         'checker 7x5/2cm at 10,20 90,22 88,70 12,66', its four corners clockwise; of a bar or two points both ends
  'end 1', 'end 2'  '812,1440'; with several finds 'end 1 21'
  north             '10,80 10,20 magnetic', from tail to head; or true, or grid
  origin            '466,341', the outer corner of square A1; or also a place that the letters run towards
  'up field top'    '10,80 10,20', from tail to head; also 'up way up' (of the beds) and 'up carry'
  'outline femur'   'bone at 10,20 90,22 88,70', or 'bone level 8cm at ...', that far below the reference; also block
  of a photo or a set-up
  depth, 'depth B3' 8cm, from the reference down to the bone; in square B3
  'tape A1 to F6'   707mm, squares from middle to middle; in a photo also '412mm at 10,20 90,22'
  of a jacket
  'waiver gridded'  why it cannot be photographed
  of a find
  museum_number     'NM 2026/1234', as the museum gave it; import numbers takes many from a file`
}

// Run appends one word to words.log, or lists them.
func (c sayCommand) Run(ctx context.Context, t terminal) error {
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	if c.About == "" {
		for _, l := range s.Words.Lines {
			printLine(t, l)
		}
		return nil
	}
	if c.By == "" {
		return exit{exitUsage, "who says so? Give your initials: --by AB"}
	}
	w, err := c.word(ctx, s)
	if err != nil {
		return exit{exitUsage, err.Error()}
	}
	lines, err := s.Say(ctx, w)
	if err != nil {
		return exit{exitUsage, err.Error()}
	}
	for _, l := range lines {
		printLine(t, l)
	}
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
		files, err := s.Dir.List(ctx)
		if err != nil {
			return w, err
		}
		if file, found, err := register.PhotoNamed(files, name); err != nil {
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

func printLine(t terminal, l words.Line) {
	undone := ""
	if l.Undone {
		undone = " (undone)"
	}
	fmt.Fprintf(t.out, "line %d, %s, %s: %s, %s: %s%s\n", l.Number, l.At.Format("2006-01-02 15:04"), l.By, l.About, strings.TrimSpace(string(l.What)+" "+l.Name), l.Value, undone)
}
