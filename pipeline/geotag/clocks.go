package geotag

import (
	"fmt"
	"slices"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// phonesOf is what package phones asks of the photos, with the times that they have.
func phonesOf(records []*record.Record, season register.Season) (photos []phones.Photo, when []*phones.When) {
	for _, r := range records {
		p := phones.Photo{File: r.Photo.File, Capture: r.Capture}
		for _, code := range r.Codes {
			text := assign.TextOf(season, code)
			if text == "" {
				text = fmt.Sprintf("card %d", code.Card)
			}
			p.Codes = append(p.Codes, text)
		}
		photos, when = append(photos, p), append(when, r.When)
	}
	return photos, when
}

// Compare counts what each phone took, and tells what their clocks say of each other, now that all codes and copies are
// known.
func Compare(records []*record.Record, sheets *register.Register) (perDay []phones.Count, notices []Notice) {
	photos, when := phonesOf(slices.DeleteFunc(slices.Clone(records), (*record.Record).Copied), sheets.Season)
	for _, d := range phones.Compare(photos, when, sheets.Season, begins(sheets)) {
		notices = append(notices, Notice{Text: d.Text})
	}
	return phones.PerDay(photos, when), notices
}

// Doubted are the phones whose times are in doubt, by themselves and held against each other.
func Doubted(records []*record.Record, sheets *register.Register, doubts []phones.Doubt) map[phones.Phone]bool {
	photos, when := phonesOf(records, sheets.Season)
	doubted := map[phones.Phone]bool{}
	for _, d := range slices.Concat(doubts, phones.Compare(photos, when, sheets.Season, begins(sheets))) {
		for _, p := range d.Phones {
			doubted[p] = true
		}
	}
	return doubted
}

// begins is the register's first day; "" where it has none.
func begins(sheets *register.Register) (day string) {
	first := func(d register.Date) {
		if text := d.String(); text != "" && (day == "" || text < day) {
			day = text
		}
	}
	for _, f := range sheets.Finds {
		first(f.Date)
	}
	for _, e := range sheets.Diary {
		first(e.Date)
	}
	return day
}
