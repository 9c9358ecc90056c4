package paperwork

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// A Locality is what a locality's record is made of.
type Locality struct {
	Made     time.Time          `json:"Made"`
	Paper    sheet.Paper        `json:"Paper"` // zero: A4
	Season   register.Season    `json:"Season"`
	Locality register.Locality  `json:"Locality"`
	Finds    []register.Find    `json:"Finds"`   // those that name it
	Carried  []register.Carried `json:"Carried"` // jackets with a find here that earlier seasons began
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
	rows := placeRows(at)
	s.facts(filled(slices.Clone(rows)))
	if lacking := blank(rows); len(lacking) > 0 {
		s.text("Not recorded: " + strings.Join(lacking, ", ") + ".")
	}
	s.heading("Finds")
	if len(l.Finds) == 0 {
		s.text("No find names this locality.")
	} else {
		t := sheet.Table{Heads: []string{"find", "found", "what", "horizon, height", "its own position, as typed"}, Shares: []float64{1.2, 1.2, 1.8, 1.4, 2.6}}
		for _, f := range l.Finds {
			number := f.FieldNumber + l.whence(f)
			if len(f.Formerly) > 0 {
				number += ", " + formerly(f.Formerly)
			}
			bed := strings.Join(nonBlank(f.Horizon, measured("", f.HeightInSectionM, "m")), ", ")
			t.Rows = append(t.Rows, []string{number, or(f.Date.String()), or(f.What), or(bed), ownPlace(f.Position)})
		}
		s.table(t)
	}
	l.before(s)
	const heading, line, least = 16, 8, 2
	s.Need(heading + least*line)
	s.heading("Notes")
	s.Pencil(max(least, int(s.RoomMm()/line)))
	return s.Write(w)
}

// ownPlace is a find's own position in one text.
func ownPlace(at register.Position) string {
	var parts []string
	for i, row := range position(at) {
		if i > 0 { // the first is the text itself
			row[1] = prefixed(row[0]+": ", row[1])
		}
		parts = append(parts, nonBlank(row[1])...)
	}
	return or(strings.Join(parts, "; "))
}

// placeRows are the rows of a locality; those without text are not recorded.
func placeRows(at register.Locality) [][2]string {
	rows := [][2]string{{"locality", at.Number}, {"name", at.Name}}
	rows = append(rows, position(at.Position)...)
	rows = append(rows, [][2]string{
		{"formation", at.Formation},
		{"member", at.Member},
		{"age", at.Age},
		{"landowner", at.Landowner},
		{"permit", strings.Join(nonBlank(at.Permit, prefixed("until ", at.PermitUntil.String())), "; ")},
		{"access", at.Access},
		{"remarks", at.Remarks},
	}...)
	for _, o := range at.Other {
		rows = append(rows, [2]string{o.Head, o.Text})
	}
	return rows
}

// whence says of a find that came with a jacket from an earlier season which one that was; "" of others.
func (l Locality) whence(f register.Find) string {
	for _, c := range l.Carried {
		for _, own := range c.Finds {
			if c.NowIs(own.FieldNumber) == f.FieldNumber {
				return fmt.Sprintf(" (from %s, find %s in jacket %s)", c.From, own.FieldNumber, c.Number)
			}
		}
	}
	return ""
}

// before prints what earlier seasons wrote of the place where they wrote something else.
func (l Locality) before(s pages) {
	now, done := placeRows(l.Locality), map[string]bool{}
	for i := range l.Carried {
		here := l.Carried[i].NowIs // what a number is in this season
		for c := &l.Carried[i]; c != nil; c = c.Before {
			for _, was := range c.Localities {
				if here(was.Number) != l.Locality.Number || done[c.From] {
					continue
				}
				rows := slices.DeleteFunc(filled(placeRows(was)), func(row [2]string) bool { return slices.Contains(now, row) })
				if len(rows) > 0 {
					done[c.From] = true
					s.heading("As " + c.From + " had it, where that differs")
					s.facts(rows)
				}
			}
			if before, then := c.Before, here; before != nil {
				here = func(number string) string { return then(before.NowIs(number)) }
			}
		}
	}
}
