//go:build cgo

package vision

import (
	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// A finder is how one kind of reference is looked for in a picture, and measured where a person put it.
type finder struct {
	// find looks for it everywhere. seed feeds searches that draw at random, so that one photo always gives one answer.
	find func(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found

	// between measures one whose two ends a person put, each coordinate to pickPx; nil: it is set by four corners, which have the rest.
	between func(p *Picture, ref calibrate.Reference, ends [2]calibrate.Point, pickPx float64) look.Found

	near      func(p *Picture, ref calibrate.Reference, rough *calibrate.Plane) look.Found // measures its marks near a rough plane
	pattern   func(ref calibrate.Reference) pattern                                        // dark and light squares between its corners; nil: it has none
	counts    func(ref *calibrate.Reference) (across, down *int, more int)                 // what a person counts between its corners, and how many more there are; nil: nothing
	cellCm    func(ref calibrate.Reference) float64
	strays    float64 // how far what is found may lie off the corners, in cells: farther off it is something else, such as the next string
	straysMax float64 // however badly they were picked
}

// finders has one entry per kind of reference that pixels are read for.
var finders = map[calibrate.Kind]finder{
	calibrate.KindChecker: checkerFinder,
	calibrate.KindGrid:    gridFinder,
	calibrate.KindBar:     {find: findBar, between: refineBar},
	calibrate.KindCard:    cardFinder,
}

// Look finds every reference of the list in the picture, in order.
func Look(p *Picture, refs []calibrate.Reference, seed uint64) []look.Found {
	found := make([]look.Found, 0, len(refs))
	for _, ref := range refs {
		finder, ok := finders[ref.Kind]
		if !ok {
			found = append(found, look.Found{Refused: notLookedFor(ref)})
			continue
		}
		p.seen = considered{}
		f := finder.find(p, ref, p.Camera(), seed)
		if f.Refused != nil {
			f.Considered = append(f.Considered, p.seen.told()...)
			f.Considered = f.Considered[:min(len(f.Considered), maxConsidered)]
		}
		found = append(found, f)
	}
	return found
}

func notLookedFor(ref calibrate.Reference) *calibrate.Refusal {
	return calibrate.Refuse("name another reference", "%s: this version does not look for a %s", ref, ref.Kind)
}
