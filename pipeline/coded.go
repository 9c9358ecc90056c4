package pipeline

import (
	"reflect"
	"slices"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/phones"
)

// coded puts the cards and placards that were seen in the photos to what
// words and names settle.
func (s *Season) coded(records []*Record, belongs []assign.Belongs) []assign.Belongs {
	shots := make([]assign.Shot, len(records))
	photos, _ := s.taken(records)
	when, doubts := phones.Settle(photos, s.Register.Season)
	doubted := map[phones.Phone]bool{}
	for _, d := range append(doubts, phones.Compare(photos, when, s.Register.Season, s.begins())...) {
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
			shots[i].Wall, shots[i].ClockInDoubt = when[i].Wall(s.Register.Season.Zone), doubted[photos[i].Of()]
		}
		for _, code := range r.Codes {
			shots[i].Codes = append(shots[i].Codes, s.codeText(code))
		}
	}
	return assign.Coded(s.Register, s.Register.Season.CarryFor, s.Register.Season.CarryPause, belongs, shots)
}

// codeText is what a code says, or for a card what it would say of the jacket
// that season.toml gives it; empty: nothing.
func (s *Season) codeText(c look.Code) string {
	if c.Text != "" || c.Card == 0 {
		return c.Text
	}
	if jacket := s.Register.Season.Card(c.Card).Jacket; jacket != "" {
		return assign.CodeText(jacket)
	}
	return ""
}

// recode settles anew what photos belong to, now that all codes were seen,
// and gives the tasks for which that changes anything.
func (s *Season) recode(tasks []*task) (changed []*task) {
	records, named := make([]*Record, len(tasks)), make([]assign.Belongs, len(tasks))
	for i, t := range tasks {
		records[i], named[i] = t.r, t.named
	}
	for i, b := range s.coded(records, named) {
		t := tasks[i]
		if !reflect.DeepEqual(b, t.belongs) {
			t.belongs = b
			changed = append(changed, t)
		}
	}
	return slices.Clip(changed)
}
