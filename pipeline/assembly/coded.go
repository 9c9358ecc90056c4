package assembly

import (
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// coded puts the cards and placards that were seen in the photos to what
// words and names settle; doubts are those of the phones' own times.
func coded(sheets *register.Register, records []*record.Record, belongs []assign.Belongs, doubts []phones.Doubt) []assign.Belongs {
	shots := make([]assign.Shot, len(records))
	doubted := geotag.Doubted(records, sheets, doubts)
	for i, r := range records {
		shots[i] = assign.Shot{File: r.Photo.File}
		if c := r.Capture; c != nil {
			shots[i].Model = c.Model
			if c.Local != nil {
				shots[i].Taken = c.Local.At(0)
			}
		}
		if r.When != nil {
			shots[i].Wall, shots[i].ClockInDoubt = r.When.Wall(sheets.Season.Zone), doubted[r.Phone()]
		}
		for _, code := range r.Codes {
			shots[i].Codes = append(shots[i].Codes, assign.TextOf(sheets.Season, code))
		}
	}
	return assign.Coded(sheets, sheets.Season.PropagateFor, sheets.Season.CarryPause, belongs, shots)
}
