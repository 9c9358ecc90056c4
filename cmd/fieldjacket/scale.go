package main

import (
	"context"
	"encoding/json"
	"fmt"

	"fieldjacket/pipeline/diagnostic"
	"fieldjacket/pipeline/loose"
)

type scaleCommand struct {
	referenceFlags
	withFlag
	Overlay string   `placeholder:"FILE" help:"Draw what was found on a copy of the photo: a JPEG; for several photos a folder."`
	JSON    bool     `help:"One JSON object a line."`
	Photos  []string `arg:"" name:"photo" help:"Photos; they are only read."`
}

func (scaleCommand) Help() string {
	return "Example: fieldjacket scale --checker 7x5/2cm IMG_0412.JPG IMG_0413.JPG"
}

// Run prints one line per photo and reference. It ends with 3 when a reference
// was refused in a photo and with 1 when no photo could be read.
func (c scaleCommand) Run(ctx context.Context, t terminal) error {
	refs, err := c.references()
	if err != nil {
		return err
	}
	if err := c.check(refs); err != nil {
		return err
	}
	if len(c.With) > 0 && len(c.Photos) > 1 {
		return exit{exitUsage, fmt.Sprintf("--with: name one photo to scale, not %d: the others of its set follow --with", len(c.Photos))}
	}
	overlays, err := diagnostic.Paths(c.Overlay, c.Photos)
	if err != nil {
		return exit{exitUsage, "--overlay: " + err.Error()}
	}
	child, done, err := looker(ctx, refs, c.Overlay != "")
	defer done()
	if err != nil {
		return err
	}
	read, refused := 0, 0
	for i, path := range c.Photos {
		var drawn *loose.Overlay
		if overlays[i] != "" {
			drawn = &loose.Overlay{Path: overlays[i]}
		}
		answer := scaleAnswer{File: path}
		record, laid, err := c.loose(ctx, child, path, refs, drawn)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			answer.Status, answer.Reason = "unreadable", err.Error()
		} else {
			read++
			answer.fill(record, refs)
			answer.fillDepth(laid)
			if answer.open() {
				refused++
			}
		}
		if c.JSON {
			if err := json.NewEncoder(t.out).Encode(answer); err != nil {
				return err
			}
			continue
		}
		fmt.Fprintln(t.out, answer.line())
		if answer.Depth != nil {
			fmt.Fprintln(t.out, "    "+answer.Depth.line())
		}
	}
	switch {
	case read == 0:
		return exit{code: exitNothing}
	case refused > 0 || read < len(c.Photos):
		return exit{code: exitPerson}
	}
	return nil
}
