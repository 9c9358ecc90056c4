package pipeline

import (
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// depthStates says of each laid grid whether its photos tell how deep the bone
// lies. Of one whose block is under plaster only what was measured is of use.
func (g *gathering) depthStates() (out []audit.Depth) {
	for _, s := range g.sets() {
		first := s.tasks[0]
		d := audit.Depth{Jackets: first.r.Belongs.Jackets}
		if u := first.p.OneSetUp(); u != nil {
			d.SetUp = u.Name
		}
		for _, t := range s.tasks {
			d.Files = append(d.Files, t.r.Photo.File)
		}
		if kept := g.depths[first.r.Name()]; kept != nil && kept.Key == s.key {
			d.Tell(kept.Depths, kept.Refused)
		} else {
			d.Tell(nil, nil)
		}
		if d.Photos > 0 || !g.closed(d.Jackets) {
			out = append(out, d)
		}
	}
	return out
}

// closed tells whether all these jackets are under plaster, so that their bone cannot be photographed again.
func (g *gathering) closed(jackets []string) bool {
	for _, number := range jackets {
		if stage, _ := g.season.Register.StageOf(number); !stage.Reached(register.Covered) {
			return false
		}
	}
	return len(jackets) > 0
}
