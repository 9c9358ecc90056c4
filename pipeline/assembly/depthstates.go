package assembly

import (
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// States says of each laid grid whether its photos tell how deep the bone
// lies. Of one whose block is under plaster only what was measured is of use.
func (d *Depths) States(photos []*Photo) (out []audit.Depth) {
	for _, s := range Sets(photos) {
		first := s.Photos[0]
		one := audit.Depth{Jackets: first.Record().Belongs.Jackets}
		if u := first.Evidence.OneSetUp(); u != nil {
			one.SetUp = u.Name
		}
		for _, p := range s.Photos {
			one.Files = append(one.Files, p.Record().Photo.File)
		}
		if kept := d.known[first.Record().Name()]; kept != nil && kept.Key == s.Key {
			one.Tell(kept.Depths, kept.Refused)
		} else {
			one.Tell(nil, nil)
		}
		if one.Photos > 0 || !closed(first.Evidence.Sheets, one.Jackets) {
			out = append(out, one)
		}
	}
	return out
}

// closed tells whether all these jackets are under plaster, so that their bone cannot be photographed again.
func closed(sheets *register.Register, jackets []string) bool {
	for _, number := range jackets {
		if stage, _ := sheets.StageOf(number); !stage.Reached(register.Covered) {
			return false
		}
	}
	return len(jackets) > 0
}
