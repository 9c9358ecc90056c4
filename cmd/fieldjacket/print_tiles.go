package main

import (
	"io"

	"fieldjacket/overlay/sheet"
)

// printTilesCommand prints the tiles of a frame's corners.
type printTilesCommand struct {
	Paper string `default:"A4" help:"A4 or Letter."`
	Out   string `short:"o" default:"tiles.pdf" help:"The PDF to write."`
}

func (printTilesCommand) Help() string {
	return "Example: fieldjacket print tiles -o tiles.pdf"
}

// Run writes the PDF.
func (c printTilesCommand) Run(t terminal) error {
	paper, err := cardPaper(c.Paper)
	if err != nil {
		return err
	}
	return writeSheets(t, c.Out, paper, 1, "print at actual size, and measure the line on it",
		func(w io.Writer) error { return sheet.WriteTiles(w, paper) })
}
