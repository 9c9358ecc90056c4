package pipeline

import (
	"slices"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
)

// coded puts the cards and placards that were seen in the photos to what
// words and names settle; doubts are those of the phones' own times.
func coded(sheets *register.Register, records []*Record, belongs []assign.Belongs, doubts []phones.Doubt) []assign.Belongs {
	shots := make([]assign.Shot, len(records))
	photos, when := phonesOf(records, sheets.Season)
	doubted := map[phones.Phone]bool{}
	for _, d := range slices.Concat(doubts, phones.Compare(photos, when, sheets.Season, begins(sheets))) {
		for _, p := range d.Phones {
			doubted[p] = true
		}
	}
	for i, r := range records {
		shots[i] = assign.Shot{File: r.Photo.File}
		if c := r.Capture; c != nil {
			shots[i].Model = c.Model
			if c.Local != nil {
				shots[i].Taken = c.Local.At(0)
			}
		}
		if when[i] != nil {
			shots[i].Wall, shots[i].ClockInDoubt = when[i].Wall(sheets.Season.Zone), doubted[photos[i].Of()]
		}
		for _, code := range r.Codes {
			shots[i].Codes = append(shots[i].Codes, codeText(sheets.Season, code))
		}
	}
	return assign.Coded(sheets, sheets.Season.CarryFor, sheets.Season.CarryPause, belongs, shots)
}

// codeText is what a code says, or for a card what it would say of the jacket
// that season.toml gives it; empty: nothing.
func codeText(season register.Season, c look.Code) string {
	if c.Text != "" || c.Card == 0 {
		return c.Text
	}
	if jacket := season.Card(c.Card).Jacket; jacket != "" {
		return assign.CodeText(jacket)
	}
	return ""
}
