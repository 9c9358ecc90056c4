package pipeline

import (
	"fmt"

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

// comparePhones adds to the notices of locate what the phones' clocks say of each other, now that all codes were seen.
func (s *Season) comparePhones(records []*Record) {
	begins := ""
	add := func(d register.Date) {
		if day := d.String(); day != "" && (begins == "" || day < begins) {
			begins = day
		}
	}
	for _, f := range s.Register.Finds {
		add(f.Date)
	}
	for _, e := range s.Register.Diary {
		add(e.Date)
	}
	photos, when := s.taken(records)
	for _, text := range phones.Compare(photos, when, s.Register.Season, begins) {
		s.Notices = append(s.Notices, Notice{Text: text})
	}
}
