package main

import (
	"fmt"
	"io"
	"strings"

	"fieldjacket/calibrate/card"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/keep"
)

// printCardCommand prints our own cards.
type printCardCommand struct {
	Number int    `placeholder:"1" help:"The card's number. Default: all of them, a sheet each."`
	Jacket string `help:"The jacket's number, printed on the card. Default: a line to write on."`
	Arrow  string `default:"north" help:"What the arrow is to point to: north, or an end of the fossil."`
	Paper  string `default:"A4" help:"A4 or Letter."`
	Out    string `short:"o" default:"cards.pdf" help:"The PDF to write."`
}

func (printCardCommand) Help() string {
	return "Example: fieldjacket print card --number 1 --jacket 14 -o card-1.pdf"
}

// Run writes the PDF.
func (c printCardCommand) Run(t terminal) error {
	paper, err := cardPaper(c.Paper)
	if err != nil {
		return err
	}
	var cards []sheet.CardPrint
	for n := 1; n <= card.Cards.Count(); n++ {
		if c.Number == 0 || c.Number == n {
			cards = append(cards, sheet.CardPrint{Number: n, Arrow: c.Arrow, Jacket: c.Jacket})
		}
	}
	if len(cards) == 0 {
		return exit{exitUsage, fmt.Sprintf("--number %d: want 1 to %d", c.Number, card.Cards.Count())}
	}
	if c.Jacket != "" && len(cards) > 1 {
		return exit{exitUsage, "--jacket names one jacket: name one card too, with --number"}
	}
	return writeSheets(t, c.Out, paper, len(cards), "print at actual size, then measure the line on each card",
		func(w io.Writer) error { return sheet.WriteCards(w, paper, cards) })
}

// cardPaper is the paper that cards, placards and forms are printed on.
func cardPaper(name string) (sheet.Paper, error) { return paperOf(name, sheet.A4, sheet.Letter) }

// paperOf is that one of some papers which has a name, in capitals or not.
func paperOf(name string, papers ...sheet.Paper) (sheet.Paper, error) {
	var names []string
	for _, paper := range papers {
		if strings.EqualFold(name, paper.Name) {
			return paper, nil
		}
		names = append(names, paper.Name)
	}
	return sheet.Paper{}, exit{exitUsage, fmt.Sprintf("--paper %q: want %s", name, strings.Join(names, " or "))}
}

// writeSheets writes a PDF of so many sheets, says so, and what to do with it.
// What write refuses is a matter of usage.
func writeSheets(t terminal, out string, paper sheet.Paper, n int, then string, write func(io.Writer) error) error {
	if err := keep.CanReplace(out, sheet.Ours); err != nil {
		return exit{exitNothing, err.Error()}
	}
	var fault error
	err := keep.Write(out, 0o644, func(w io.Writer) error {
		fault = write(w)
		return fault
	})
	if fault != nil {
		return exit{exitUsage, fault.Error()}
	}
	if err != nil {
		return exit{exitNothing, err.Error()}
	}
	sheets := "one sheet"
	if n > 1 {
		sheets = fmt.Sprintf("%d sheets", n)
	}
	fmt.Fprintf(t.out, "%s: %s of %s; %s\n", out, sheets, paper.Name, then)
	return nil
}
