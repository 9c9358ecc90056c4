package pipeline

import (
	"slices"

	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/record"
)

// turnAlike settles by what all plates of a jacket can be turned, the best way that each of its scaled photos tells that tells any; a
// jacket for which there is none has each plate turned by the best of its own.
func (g *gathering) turnAlike() {
	common := map[string][]plate.Way{}
	each := func(t *task, do func(number string, ways []plate.Way)) {
		if !t.wanted() {
			return
		}
		for _, number := range t.r.Belongs.Jackets {
			if ways := t.input().Ways(number); len(ways) > 1 { // more than as the photo was held
				do(number, ways)
			}
		}
	}
	for _, t := range g.tasks {
		each(t, func(number string, ways []plate.Way) {
			have, seen := common[number]
			if !seen {
				common[number] = ways
				return
			}
			common[number] = slices.DeleteFunc(slices.Clone(have), func(w plate.Way) bool { return !slices.Contains(ways, w) })
		})
	}
	for _, t := range g.tasks {
		t.turned = nil
		each(t, func(number string, _ []plate.Way) {
			if best := common[number][0]; best != plate.ByPhoto { // by which every plate can be turned
				if t.turned == nil {
					t.turned = map[string]plate.Way{}
				}
				t.turned[number] = best
			}
		})
	}
}

// input is what the photo's plates are composed from.
func (t *task) input() plate.Input {
	norths := func(r *record.Record, jacket string) figure.Norths {
		return evidence.Norths(t.season.Register, r, jacket)
	}
	return plate.Input{Photo: t.p, Covered: t.covered, Norths: norths, Turned: t.turned}
}

// compose makes what the photo's plates say.
func (t *task) compose() { t.composed = plate.Compose(t.input()) }
