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
	view, err := pageOf(Day{Season: d.Season, Date: d.Date, Report: d.Report, Refused: d.Refused, Photos: d.Photos})
	if err != nil {
		return err
	}
	made := time.Date(d.Date.Year, d.Date.Month, d.Date.Day, 0, 0, 0, 0, time.UTC)
	s := pages{sheet.New(sheet.Options{Paper: d.Paper, Number: d.Date.String(), Title: letters.Spell("day, " + or(d.Season.Name)), Made: made})}
	s.text(view.Counts + ".")
	s.standing(view.dayJackets)
	if len(d.OnPlaster) > 0 {
		s.heading("Write this on the plaster")
		for _, line := range d.OnPlaster {
			s.bold(line.Text)
		}
	}
	s.heading("Other photos refused this day")
	t := sheet.Table{Heads: []string{"photo", "why", "what to do"}, Shares: []float64{1.6, 2.4, 2.2}}
	for _, r := range view.Others {
		retake := r.Retake
		if retake == "" {
			retake = "ask whoever took it"
		}
		t.Rows = append(t.Rows, []string{r.File, r.Reason, retake})
	}
	s.orNone(t, "None.")
	s.loose("Photos that belong to no jacket yet", view.Unsorted)
	if len(view.Conflicts) > 0 {
		s.loose("Photos with conflicting jacket numbers", view.Conflicts)
	}
	if len(view.Unreadable) > 0 {
		s.loose("Files that cannot be read as photos", view.Unreadable)
	}
	var phones []string
	for _, p := range d.Phones {
		phones = append(phones, strings.Join(append([]string{fmt.Sprintf("%s: %d", p.Name, p.Photos)}, p.Copied...), "; "))
	}
	s.lines("Phones: compare with what each shows for this day", phones)
	s.lines("Phones, tracks and places", d.Notices)
	s.lines("Correct in the sheets", d.Problems)
	s.heading("Diary of the day")
	t = sheet.Table{Heads: []string{"time", "numbers", "what", "stage", "by"}, Shares: []float64{0.7, 1.1, 3.6, 0.9, 0.8}}
	for _, e := range d.Diary {
		t.Rows = append(t.Rows, []string{e.Time, strings.Join(e.Numbers, ", "), e.What, string(e.Stage), e.By})
	}
	s.orNone(t, "No line is written for this day.")
	return s.Write(w)
}

// standing lists the jackets by their standing, with a box to tick beside each thing that can still be fixed.
func (s pages) standing(j dayJackets) {
	if j.NoJackets {
		s.text("The register has no jackets.")
		return
	}
	if len(j.Fix) > 0 {
		s.heading("Can still be fixed")
		for _, one := range j.Fix {
			s.bold(letters.Spell(fmt.Sprintf("%s %s: %s (%s)", one.Number, one.Word, one.Lacks, one.Also)))
			var todo []string
			for _, f := range one.Fixes {
				text := f.Do
				if f.Why != "" {
					text += " (" + f.Why + ")"
				}
				todo = append(todo, letters.Spell(text))
			}
			s.Ticks(todo)
		}
	}
	table := func(heading string, all []jacketView) {
		if len(all) == 0 {
			return
		}
		s.heading(heading)
		t := sheet.Table{Heads: []string{"number", "stage and more", "missing"}, Shares: []float64{1, 4, 2}, First: true}
		for _, one := range all {
			t.Rows = append(t.Rows, []string{one.Number, one.Also, one.Lacks})
		}
		s.table(t)
	}
	table("Not ready yet, nothing overdue", j.OnItsWay)
	table("Ready to jacket", j.Ready)
	table("Jacketed", j.Closed)
	table("No plaster jacket", j.Packed)
	table("Too late to take: waive with the reason", j.Late)
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
