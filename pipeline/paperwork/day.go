package paperwork

import (
	"fmt"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// A Day is what a day's page and sheet are made of.
type Day struct {
	Paper  sheet.Paper      `json:"Paper"` // of the sheet; zero: A4
	Season register.Season  `json:"Season"`
	Date   register.Date    `json:"Date"`
	Report audit.Report     `json:"Report"` // of the whole season, as it stands
	Diary  []register.Entry `json:"Diary"`
	Photos int              `json:"Photos"` // taken this day
	Shots  []Shot           `json:"Shots"`  // the same, in their order
	// OnPlaster is, for each jacket, the line to be written on it by hand.
	OnPlaster []Line `json:"OnPlaster"`
	// Refused are this day's photos that could not be scaled, read or drawn, with what a person can do.
	Refused []Refused `json:"Refused"`
	Phones  []Phone   `json:"Phones"` // those that took photos this day
	// Notices on phones, tracks and places, one sentence each.
	Notices []string `json:"Notices"`
	// Seen are pictures of photos that were refused, this day or earlier, by their files.
	Seen []Seen `json:"Seen,omitempty"`
	// Problems of the register, one sentence each, with sheet, row and column.
	Problems []string `json:"Problems"`
}

// A Line is what is to be written on one jacket.
type Line struct {
	Number string `json:"Number"`
	Text   string `json:"Text"`
}

// A Phone is how many photos one phone took in a day, copies included.
type Phone struct {
	Name   string   `json:"Name"`
	Photos int      `json:"Photos"`
	Copied []string `json:"Copied,omitempty"` // how many of them were copied and verified, a line a place; nil: not by this program
}

// A Refused is a photo with the reason it was refused for and how to retake it.
type Refused struct {
	File   string `json:"File"`
	Reason string `json:"Reason"`
	Retake string `json:"Retake"`
}

// told are the photos that the jackets' fixes and the conflicts name already, so that none is told of twice.
func (d Day) told() map[string]bool {
	told := d.Report.Told()
	for _, l := range d.Report.Conflicts {
		told[l.File] = true
	}
	return told
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
