package assembly

import (
	"slices"

	"fieldjacket/pipeline/plate"
)

// turnAlike settles by what all plates of a jacket can be turned, the best way that each of its scaled photos tells that tells any; a
// jacket for which there is none has each plate turned by the best of its own.
func turnAlike(photos []*Photo) {
	common := map[string][]plate.Way{}
	each := func(p *Photo, do func(number string, ways []plate.Way)) {
		if !p.Wanted() {
			return
		}
		for _, number := range p.Record().Belongs.Jackets {
			if ways := p.Input().Ways(number); len(ways) > 1 { // more than as the photo was held
				do(number, ways)
			}
		}
	}
	for _, p := range photos {
		each(p, func(number string, ways []plate.Way) {
			have, seen := common[number]
			if !seen {
				common[number] = ways
				return
			}
			common[number] = slices.DeleteFunc(slices.Clone(have), func(w plate.Way) bool { return !slices.Contains(ways, w) })
		})
	}
	for _, p := range photos {
		p.Turned = nil
		each(p, func(number string, _ []plate.Way) {
			if best := common[number][0]; best != plate.ByPhoto { // by which every plate can be turned
				if p.Turned == nil {
					p.Turned = map[string]plate.Way{}
				}
				p.Turned[number] = best
			}
		})
	}
}
