package main

import (
	"fmt"
	"io"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/keep"
)

// printPlacardCommand prints the placards of jackets.
type printPlacardCommand struct {
	Jacket []string `required:"" sep:"none" placeholder:"NUMBER" help:"The jacket's number. Again for more jackets, a sheet each."`
	Size   string   `default:"full" enum:"label,half,full" help:"label (74 x 105 mm), half the sheet, or full."`
	Paper  string   `default:"A4" help:"A4 or Letter."`
	Out    string   `short:"o" default:"placards.pdf" help:"The PDF to write."`
}

func (printPlacardCommand) Help() string {
	return "Example: fieldjacket print placard --jacket 14 --jacket 15 --size half -o placards.pdf"
}

// Run writes the PDF.
func (c printPlacardCommand) Run(t terminal) error {
	paper, err := cardPaper(c.Paper)
	if err != nil {
		return err
	}
	var fault error
	err = keep.Write(c.Out, 0o644, func(w io.Writer) error {
		fault = sheet.WritePlacards(w, paper, sheet.PlacardSize(c.Size), c.Jacket)
		return fault
	})
	if fault != nil {
		return exit{exitUsage, fault.Error()}
	}
	if err != nil {
		return exit{exitNothing, err.Error()}
	}
	sheets := "one sheet"
	if len(c.Jacket) > 1 {
		sheets = fmt.Sprintf("%d sheets", len(c.Jacket))
	}
	fmt.Fprintf(t.out, "%s: %s of %s; photograph a placard whole before its jacket's other photos\n", c.Out, sheets, paper.Name)
	return nil
}
