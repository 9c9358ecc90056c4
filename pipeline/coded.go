package pipeline

import (
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

// coded puts the cards and placards that were seen in the photos to what
// words and names settle.
func coded(sheets *register.Register, records []*Record, belongs []assign.Belongs) []assign.Belongs {
	shots := make([]assign.Shot, len(records))
	for i, r := range records {
		shots[i] = assign.Shot{File: r.Photo.File}
		if c := r.Capture; c != nil {
			shots[i].Model = c.Model
			if c.Local != nil {
				shots[i].Taken = c.Local.At(0)
			}
		}
		if r.When != nil {
			shots[i].Wall = r.When.Local.At(0)
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
