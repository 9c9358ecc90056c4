package paperwork

import (
	"fmt"
	"io"
	"slices"
	"time"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/table"
)

// A blankForm is one page of the blank forms: a list of fields for one thing, or lines for many.
type blankForm struct {
	sheet, title, advice string
	lines                []float64 // shares of the columns where it has lines; nil: one field below the other
}

// blankForms are the forms in the order of the work.
var blankForms = []blankForm{
	{sheet: "finds", title: "Find", advice: "One sheet a find. The first four always; leave blank what you do not know. This sheet may hold a position: keep it apart from the jackets' papers."},
	{sheet: "jackets", title: "Jacket", advice: "One sheet a package. The number is written on the plaster too, with FIELD TOP and the side to open from."},
	{sheet: "diary", title: "Diary", advice: "One line a thing done. Every glue, consolidant and separator with its mix, where it went and how many coats; the stage when one is reached.", lines: []float64{1.3, 1.2, 3.2, 0.7, 0.9, 1.1, 1.1, 0.8, 0.9, 1.1}},
	{sheet: "photos", title: "Photo log", advice: "One line a photo or a range. Folder and name of the first and last photo, the jacket, what they show. Of each laid grid: one from straight above; one a step to the side and lower, turned to the middle; a third likewise from the next side; nothing moved, within minutes.", lines: []float64{2.2, 1.1, 1.2, 0.9, 2.2, 0.9, 1, 0.7, 0.9}},
}

// formsDate stands in the file of the blank forms, which are the same on any day.
var formsDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// WriteForms writes the blank forms: find, jacket, diary and photo log, in the order and words of the register's sheets.
func WriteForms(w io.Writer, paper sheet.Paper) error {
	s := pages{sheet.New(sheet.Options{Paper: paper, Number: "No.", Title: "blank forms", Made: formsDate})}
	all := table.Blanks()
	for i, form := range blankForms {
		if i > 0 {
			s.Page()
		}
		at := slices.IndexFunc(all, func(b table.Blank) bool { return b.Name == form.sheet })
		if at < 0 {
			return fmt.Errorf("blank form %s: the register has no such sheet", form.sheet)
		}
		blank := all[at]
		s.heading(form.title)
		s.text(form.advice)
		if form.lines == nil {
			s.Fields(blank.Fields, blank.Must)
			continue
		}
		if len(form.lines) != len(blank.Fields) {
			return fmt.Errorf("blank form %s: %d widths for %d columns", form.sheet, len(form.lines), len(blank.Fields))
		}
		s.Lines(blank.Fields, form.lines)
	}
	return s.Write(w)
}
