package pipeline

import (
	"fmt"
	"slices"

	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
)

// taken is what package phones asks of the photos, with the times that they have.
func (s *Season) taken(records []*Record) (photos []phones.Photo, when []*phones.When) {
	for _, r := range records {
		p := phones.Photo{File: r.Photo.File, Capture: r.Capture}
		for _, code := range r.Codes {
			text := s.codeText(code)
			if text == "" {
				text = fmt.Sprintf("card %d", code.Card)
			}
			p.Codes = append(p.Codes, text)
		}
		photos, when = append(photos, p), append(when, r.When)
	}
	return photos, when
}

// comparePhones counts what each phone took, and adds to the notices of locate what their clocks say of each other, now that all
// codes and copies are known.
func (s *Season) comparePhones(records []*Record) {
	photos, when := s.taken(slices.DeleteFunc(slices.Clone(records), (*Record).copied))
	s.perDay = phones.PerDay(photos, when)
	s.hearCopied(records)
	for _, text := range phones.Compare(photos, when, s.Register.Season, s.begins()) {
		s.Notices = append(s.Notices, Notice{Text: text})
	}
}

// begins is the register's first day; "" where it has none.
func (s *Season) begins() (day string) {
	first := func(d register.Date) {
		if text := d.String(); text != "" && (day == "" || text < day) {
			day = text
		}
	}
	for _, f := range s.Register.Finds {
		first(f.Date)
	}
	for _, e := range s.Register.Diary {
		first(e.Date)
	}
	return day
}
