package paperwork

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

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

//go:embed day.html
var dayHTML string

var dayPage = template.Must(template.New("day").Parse(dayHTML))

// WriteDay writes a day's page: one HTML file that needs nothing else, for the screen in camp and for a printer. What is
// meant by a mark is always a word, never a colour.
func WriteDay(w io.Writer, d Day) error {
	if d.Date.IsZero() {
		return fmt.Errorf("page of a day without a date")
	}
	d = printable(d, d.Season)
	view := pageOf(d)
	var err error
	if view.Strip, err = strip(d.Shots); err != nil {
		return err
	}
	return dayPage.Execute(w, view)
}

// A dayView is what the template shows.
type dayView struct {
	Day
	Groups []stageGroup
	Views  []register.View
	Matrix []matrixRow
	Counts string
	Strip  []thumb
	// Unsorted are the photos without a jacket whose signs do not contradict each other; those that do stand apart.
	Unsorted []audit.Loose
}

type stageGroup struct {
	Stage   string
	Jackets []jacketLine
}

type jacketLine struct {
	audit.Jacket
	Inside, Ready, Lacking string
}

type matrixRow struct {
	Number string
	Cells  []matrixCell
}

type matrixCell struct {
	Text  string
	Lacks bool
}

func pageOf(d Day) dayView {
	v := dayView{Day: d}
	for _, stage := range append(slices.Clone(register.Stages), "") {
		g := stageGroup{Stage: string(stage)}
		if stage == "" {
			g.Stage = "stage " + notRecorded
		}
		for _, j := range d.Report.Jackets {
			if j.Stage == stage {
				g.Jackets = append(g.Jackets, lineOf(j))
			}
		}
		if len(g.Jackets) > 0 {
			v.Groups = append(v.Groups, g)
		}
	}
	for _, j := range d.Report.Jackets {
		for _, s := range j.Views {
			if !slices.Contains(v.Views, s.View) {
				v.Views = append(v.Views, s.View)
			}
		}
	}
	slices.SortFunc(v.Views, func(a, b register.View) int { return slices.Index(register.Views, a) - slices.Index(register.Views, b) })
	for _, j := range d.Report.Jackets {
		row := matrixRow{Number: j.Number}
		for _, view := range v.Views {
			row.Cells = append(row.Cells, cellOf(j, view))
		}
		v.Matrix = append(v.Matrix, row)
	}
	for _, l := range d.Report.Unsorted {
		if !slices.ContainsFunc(d.Report.Conflicts, func(c audit.Loose) bool { return c.File == l.File }) {
			v.Unsorted = append(v.Unsorted, l)
		}
	}
	v.Counts = fmt.Sprintf("%s taken this day; in the season %d unsorted, %d unreadable", counted(d.Photos, "photo"), len(d.Report.Unsorted), len(d.Report.Unreadable))
	return v
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func lineOf(j audit.Jacket) jacketLine {
	line := jacketLine{Jacket: j, Inside: list(j.Finds)}
	switch j.Cover {
	case audit.CoverYes:
		line.Ready = "READY TO JACKET"
	case audit.CoverNo:
		line.Ready = "NOT READY TO JACKET"
	case audit.CoverDone:
		line.Ready = "jacketed"
	default:
		line.Ready = string(j.Cover)
	}
	var lacking []string
	for _, v := range j.Lacks() {
		text := or(v.Text)
		if !strings.HasPrefix(text, string(v.View)) {
			text = string(v.View) + ": " + text
		}
		lacking = append(lacking, text)
	}
	line.Lacking = strings.Join(lacking, "; ")
	return line
}

func cellOf(j audit.Jacket, view register.View) matrixCell {
	for _, s := range j.Views {
		if s.View != view {
			continue
		}
		if s.Lacks() {
			return matrixCell{Text: strings.ToUpper(string(s.State)), Lacks: true}
		}
		return matrixCell{Text: string(s.State)}
	}
	return matrixCell{Text: "not asked for"}
}
