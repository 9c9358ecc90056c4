package main

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/printing"
)

type printPlateCommand struct {
	Dir   string `arg:"" help:"The season's folder, after a run."`
	Photo string `arg:"" help:"The photo, as the plate's title block names it: rka/IMG_0415.JPG."`
	Out   string `required:"" placeholder:"FILE" help:"File to write: .pdf, or a picture with its resolution: .png, .tif, .jpg."`

	Jacket   string `placeholder:"NUMBER" help:"Of a photo that shows several jackets, the one meant."`
	Scale    string `default:"fit" enum:"1:1,1:2,1:5,1:10,fit" help:"1:1, 1:2, 1:5, 1:10, or fit: the largest round scale that one sheet holds."`
	Paper    string `default:"A4" help:"A4, A3 or Letter. A plate larger than the sheet is laid over several."`
	Pale     bool   `help:"Pale and without labels, to draw on."`
	Mirrored bool   `help:"As seen from field bottom."`
	Whole    bool   `xor:"part" help:"All that the photo shows, not cropped to what was measured."`
	Square   string `xor:"part" placeholder:"C3..E5" help:"Named squares alone: from one to another, or one."`
	Find     string `xor:"part" placeholder:"NUMBER" help:"One find alone: its outline, or what lies about its marked ends."`
}

func (printPlateCommand) Help() string {
	return "Example: fieldjacket print plate season-2026 rka/IMG_0415.JPG --scale 1:2 --out plate.pdf"
}

// Run prints one plate at a true scale.
func (c printPlateCommand) Run(ctx context.Context, t terminal) error {
	paper, err := paperOf(c.Paper, sheet.A4, sheet.A3, sheet.Letter)
	if err != nil {
		return err
	}
	s, err := open(c.Dir)
	if err != nil {
		return err
	}
	program, err := children.Find()
	if err != nil {
		return exit{exitNothing, err.Error()}
	}
	pool, err := children.Start(ctx, program, 1, 2*time.Minute, "")
	if err != nil {
		return exit{exitNothing, startHint(err)}
	}
	defer pool.Close()
	o := printing.Options{Photo: filepath.ToSlash(c.Photo), Jacket: c.Jacket, Mirrored: c.Mirrored, Part: plate.Part{Whole: c.Whole, Squares: c.Square, Find: c.Find}, Pale: c.Pale, Paper: paper, Out: c.Out}
	if c.Scale != "fit" {
		if _, err := fmt.Sscanf(c.Scale, "1:%g", &o.N); err != nil {
			return exit{exitUsage, err.Error()}
		}
	}
	says, err := s.PrintPlate(ctx, pool.Child(0), o)
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		return exit{exitNothing, err.Error()}
	}
	fmt.Fprintf(t.out, "%s: %s\n", c.Out, says)
	return nil
}
