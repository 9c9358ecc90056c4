package paperwork

import (
	"errors"
	"io"
	"time"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// A Locality is what a locality's record is made of.
type Locality struct {
	Made     time.Time
	Paper    sheet.Paper // zero: A4
	Season   register.Season
	Locality register.Locality
	Finds    []register.Find // those that name it
}

// WriteLocality writes the record of a locality, marked confidential on every sheet. It is the only paper with positions,
// owner, permit and access, and goes to whoever keeps such records, never with a jacket.
func WriteLocality(w io.Writer, l Locality) error {
	at := l.Locality
	if at.Number == "" {
		return errors.New("record of a locality without a number")
	}
	s := pages{sheet.New(sheet.Options{
		Paper: l.Paper, Number: letters.Spell(at.Number), Title: letters.Spell("locality, " + or(l.Season.Name)), Mark: "CONFIDENTIAL", Made: l.Made,
	})}
	s.bold("Keep apart from the jackets' packets. Whoever passes a position on decides about what is still in the ground.")
	rows := [][2]string{{"locality", at.Number}, {"name", or(at.Name)}}
	rows = append(rows, position(at.Position)...)
	rows = append(rows, [][2]string{
		{"formation, member", or(at.Formation) + ", " + or(at.Member)},
		{"age", or(at.Age)},
		{"landowner", or(at.Landowner)},
		{"permit", or(at.Permit) + "; until " + or(at.PermitUntil.String())},
		{"access", or(at.Access)},
		{"remarks", or(at.Remarks)},
	}...)
	for _, o := range at.Other {
		rows = append(rows, [2]string{o.Head, o.Text})
	}
	s.facts(rows)
	s.heading("Finds")
	if len(l.Finds) == 0 {
		s.text("No find names this locality.")
	} else {
		t := sheet.Table{Heads: []string{"find", "found", "what", "horizon, height", "position as typed"}, Shares: []float64{1.2, 1.2, 1.8, 1.4, 2.6}}
		for _, f := range l.Finds {
			where := or(f.Position.Typed) + "; datum: " + or(f.Position.Datum) + "; from: " + or(f.Position.Source) +
				"; uncertainty: " + measure(f.Position.UncertaintyM, "m") + "; altitude: " + measure(f.Position.AltitudeM, "m")
			for _, row := range converted(f.Position) {
				where += "; " + row[0] + ": " + row[1]
			}
			t.Rows = append(t.Rows, []string{f.FieldNumber, or(f.Date.String()), or(f.What), or(f.Horizon) + ", " + measure(f.HeightInSectionM, "m"), where})
		}
		s.table(t)
	}
	s.heading("Notes")
	s.Pencil(8)
	return s.Write(w)
}
