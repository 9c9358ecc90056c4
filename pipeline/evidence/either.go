package evidence

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
)

// taken is the refusal of a reference whose marks belong to another one.
func taken(ref, by calibrate.Reference) *calibrate.Refusal {
	return calibrate.Refuse("", "%s: what was found is %s", ref, by).At(calibrate.Taken)
}

// contradicted is the refusal of a reference whose size cannot be what is said.
func contradicted(ref calibrate.Reference, against []string) *calibrate.Refusal {
	return calibrate.Refuse("correct the one that is wrong: what was taped or typed of the set-up, or the size in season.toml; or name another set-up for the photo", "%s: %s", ref, strings.Join(against, "; ")).At(calibrate.Contradicts)
}

// either is the refusal of references of which nothing tells which one lay
// there, or every one of which is contradicted.
func (p *weighing) either(group []int) *calibrate.Refusal {
	var sizes, names, against []string
	var which calibrate.Which
	near := calibrate.Contradicts // until one is left that nothing speaks against
	for _, i := range group {
		ref := p.out[i].Reference
		names = append(names, ref.String())
		which = ref.Which()
		if text := fmt.Sprintf("%g cm", ref.StepCm()); !slices.Contains(sizes, text) {
			sizes = append(sizes, text)
		}
		if w := p.weigh(i); len(w.against) > 0 {
			against = append(against, fmt.Sprintf("against %s: %s", ref, strings.Join(w.against, ", ")))
		} else if r := p.out[i].Refused; r == nil || r.Near < calibrate.Other {
			near = calibrate.Either
		}
	}
	text := fmt.Sprintf("%s: %s %s? The same marks fit %s", which.Thing, strings.Join(sizes, " or "), which.Unit, strings.Join(names, " and "))
	if len(against) > 0 {
		text += "; " + strings.Join(against, "; ")
	} else {
		text += ", and nothing tells which of them lay there"
	}
	return calibrate.Refuse(which.Do, "%s", text).At(near)
}
