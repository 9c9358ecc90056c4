package main

import (
	"io"

	"fieldjacket/overlay/sheet"
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
	return writeSheets(t, c.Out, paper, len(c.Jacket), "photograph a placard whole before its jacket's other photos",
		func(w io.Writer) error { return sheet.WritePlacards(w, paper, sheet.PlacardSize(c.Size), c.Jacket) })
}
