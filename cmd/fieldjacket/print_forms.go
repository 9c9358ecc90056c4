package main

import (
	"fmt"
	"io"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
)

type printForms struct {
	Paper string `default:"A4" help:"A4 or Letter."`
	Out   string `short:"o" default:"forms.pdf" help:"The PDF to write."`
}

func (printForms) Help() string {
	return "Example: fieldjacket print forms --paper Letter -o forms.pdf"
}

// Run writes the blank forms.
func (c printForms) Run(t terminal) error {
	paper, err := cardPaper(c.Paper)
	if err != nil {
		return err
	}
	if err := keep.CanReplace(c.Out, sheet.Ours); err != nil {
		return exit{exitNothing, err.Error()}
	}
	err = keep.Write(c.Out, 0o644, func(w io.Writer) error { return paperwork.WriteForms(w, paper) })
	if err != nil {
		return exit{exitNothing, err.Error()}
	}
	fmt.Fprintf(t.out, "wrote %s: print it at actual size, and hold a ruler to the line at the foot\n", c.Out)
	return nil
}
