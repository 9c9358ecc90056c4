package paperwork

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/audit"
)

// WriteDaySheet writes a day's page for the printer: the same as [WriteDay], without the small pictures.
func WriteDaySheet(w io.Writer, d Day) error {
	if d.Date.IsZero() {
		return errors.New("sheet of a day without a date")
	}
	d = printable(d, d.Season)
	view := pageOf(d)
	made := time.Date(d.Date.Year, d.Date.Month, d.Date.Day, 0, 0, 0, 0, time.UTC)
	s := pages{sheet.New(sheet.Options{Paper: d.Paper, Number: d.Date.String(), Title: letters.Spell("day, " + or(d.Season.Name)), Made: made})}
	s.text(view.Counts + ".")
	s.heading("Jackets by stage, as of the last run")
	t := sheet.Table{Heads: []string{"number", "stage", "ready to jacket?", "lacking at its stage"}, Shares: []float64{0.9, 0.9, 2.4, 2.4}, First: true}
	for _, g := range view.Groups {
		for _, j := range g.Jackets {
			ready := j.Ready
			if j.CoverReason != "" {
				ready += ": " + j.CoverReason
			}
			lacking := j.Lacking
			if lacking == "" {
				lacking = "nothing"
			}
			t.Rows = append(t.Rows, []string{j.Number, g.Stage, ready, lacking})
		}
	}
	s.orNone(t, "The register has no jackets.")
	if len(view.Matrix) > 0 {
		s.heading("Views")
		m := sheet.Table{Heads: []string{"number"}, Shares: []float64{1.2}, First: true}
		for _, v := range view.Views {
			m.Heads, m.Shares = append(m.Heads, string(v)), append(m.Shares, 1)
		}
		for _, row := range view.Matrix {
			cells := []string{row.Number}
			for _, c := range row.Cells {
				cells = append(cells, c.Text)
			}
			m.Rows = append(m.Rows, cells)
		}
		s.table(m)
	}
	if len(d.OnPlaster) > 0 {
		s.heading("Write this on the plaster")
		for _, line := range d.OnPlaster {
			s.bold(line.Text)
		}
	}
	s.heading("Photos that were refused this day")
	t = sheet.Table{Heads: []string{"photo", "why", "what to do"}, Shares: []float64{1.6, 2.4, 2.2}}
	for _, r := range d.Refused {
		retake := r.Retake
		if retake == "" {
			retake = "ask whoever took it"
		}
		t.Rows = append(t.Rows, []string{r.File, r.Reason, retake})
	}
	s.orNone(t, "None.")
	s.loose("Photos that belong to no jacket yet", view.Unsorted)
	if len(d.Report.Conflicts) > 0 {
		s.loose("Photos with conflicting jacket numbers", d.Report.Conflicts)
	}
	if len(d.Report.Unreadable) > 0 {
		s.loose("Files that cannot be read as photos", d.Report.Unreadable)
	}
	var phones []string
	for _, p := range d.Phones {
		phones = append(phones, strings.Join(append([]string{fmt.Sprintf("%s: %d", p.Name, p.Photos)}, p.Copied...), "; "))
	}
	s.lines("Phones: compare with what each shows for this day", phones)
	s.lines("Phones, tracks and places", d.Notices)
	s.lines("Mend in the register", d.Problems)
	s.heading("Diary of the day")
	t = sheet.Table{Heads: []string{"time", "numbers", "what", "stage", "by"}, Shares: []float64{0.7, 1.1, 3.6, 0.9, 0.8}}
	for _, e := range d.Diary {
		t.Rows = append(t.Rows, []string{e.Time, strings.Join(e.Numbers, ", "), e.What, string(e.Stage), e.By})
	}
	s.orNone(t, "No line is written for this day.")
	return s.Write(w)
}

func (s pages) orNone(t sheet.Table, none string) {
	if len(t.Rows) == 0 {
		s.text(none)
		return
	}
	s.table(t)
}

func (s pages) loose(heading string, photos []audit.Loose) {
	s.heading(heading)
	t := sheet.Table{Heads: []string{"photo", "why", "perhaps"}, Shares: []float64{1.8, 3.2, 1.2}}
	for _, l := range photos {
		t.Rows = append(t.Rows, []string{l.File, l.Reason, strings.Join(l.Suggested, ", ")})
	}
	s.orNone(t, "None.")
}

// lines lists sentences to be ticked off, if there are any.
func (s pages) lines(heading string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	s.heading(heading)
	spelt := make([]string, len(sentences))
	for i, text := range sentences {
		spelt[i] = letters.Spell(text)
	}
	s.Ticks(spelt)
}
