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
	return calibrate.Refuse("correct the one that is wrong: what was taped or typed of the set-up, or the size in season.toml; or name another set-up for the photo", "%s: %s", ref, strings.Join(against, "; ")).At(calibrate.Other)
}

// either is the refusal of references of which nothing tells which one lay
// there, or of which everything is contradicted.
func (p *photo) either(group []int) *calibrate.Refusal {
	var sizes, names, against []string
	retake, unit, thing := "", "", ""
	for _, i := range group {
		ref := p.out[i].Reference
		names = append(names, ref.String())
		switch ref.Kind {
		case calibrate.KindGrid:
			unit, thing = "squares", "grid"
			retake = "say which lay there: pitch_cm of the photo's set-up, or the corners put by hand; a card laid once beside the frame tells it for the whole set-up, cells of both frames in season.toml often"
		case calibrate.KindBar:
			unit, thing = "blocks", "bar"
			retake = "say which lay there: its ends put by hand; or lay a card beside it"
		default:
			unit, thing = "squares", "board"
			retake = "say which lay there: its corners put by hand; or lay a card beside it"
		}
		if text := fmt.Sprintf("%g cm", ref.StepCm()); !slices.Contains(sizes, text) {
			sizes = append(sizes, text)
		}
		if w := p.weigh(i); len(w.against) > 0 {
			against = append(against, fmt.Sprintf("against %s: %s", ref, strings.Join(w.against, ", ")))
		}
	}
	text := fmt.Sprintf("%s: %s %s? The same marks fit %s", thing, strings.Join(sizes, " or "), unit, strings.Join(names, " and "))
	if len(against) > 0 {
		text += "; " + strings.Join(against, "; ")
	} else {
		text += ", and nothing tells which of them lay there"
	}
	return calibrate.Refuse(retake, "%s", text).At(calibrate.Either)
}
