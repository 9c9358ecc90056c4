//go:build cgo

package vision

import (
	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// A finder looks for one kind of reference. seed feeds searches that draw at
// random, so that one photo always gives one answer.
type finder func(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found

// finders has one entry per kind of reference that pixels are read for.
var finders = map[calibrate.Kind]finder{
	calibrate.KindChecker: findBoardNotOurs,
	calibrate.KindGrid:    findFramed,
	calibrate.KindBar:     findBar,
	calibrate.KindCard:    findCard,
}

// Look finds every reference of the list in the picture, in order.
func Look(p *Picture, refs []calibrate.Reference, seed uint64) []look.Found {
	found := make([]look.Found, 0, len(refs))
	for _, ref := range refs {
		find, ok := finders[ref.Kind]
		if !ok {
			found = append(found, look.Found{Refused: calibrate.Refuse("name another reference", "%s: this version does not look for a %s", ref, ref.Kind)})
			continue
		}
		p.seen = considered{}
		f := find(p, ref, p.Camera(), seed)
		if f.Refused != nil {
			f.Considered = append(f.Considered, p.seen.told()...)
			f.Considered = f.Considered[:min(len(f.Considered), maxConsidered)]
		}
		found = append(found, f)
	}
	return found
}
