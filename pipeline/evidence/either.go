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
	retake, unit, thing := "", "", ""
	near := calibrate.Contradicts // until one is left that nothing speaks against
	for _, i := range group {
		ref := p.out[i].Reference
		names = append(names, ref.String())
		switch ref.Kind {
		case calibrate.KindGrid:
			unit, thing = "squares", "grid"
			retake = "say which lay there: pitch_cm of the photo's set-up, or the corners put by hand; a card laid once beside the frame tells it for the whole set-up, the squares of both frames in season.toml often"
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
		} else if r := p.out[i].Refused; r == nil || r.Near < calibrate.Other {
			near = calibrate.Either
		}
	}
	text := fmt.Sprintf("%s: %s %s? The same marks fit %s", thing, strings.Join(sizes, " or "), unit, strings.Join(names, " and "))
	if len(against) > 0 {
		text += "; " + strings.Join(against, "; ")
	} else {
		text += ", and nothing tells which of them lay there"
	}
	return calibrate.Refuse(retake, "%s", text).At(near)
}

// What is the size that a reference is said to have: "squares of 10 cm".
func What(r calibrate.Reference) string {
	switch r.Kind {
	case calibrate.KindGrid, calibrate.KindChecker:
		return fmt.Sprintf("squares of %g cm", r.StepCm())
	case calibrate.KindBar:
		return fmt.Sprintf("blocks of %g cm", r.BlockCm)
	case calibrate.KindCard:
		return "printed at its true size"
	}
	return fmt.Sprintf("%g cm", r.LengthCm)
}

// Confirming is the least that would confirm an assumed size.
func Confirming(r calibrate.Reference) string {
	switch r.Kind {
	case calibrate.KindGrid:
		return "lay a card once beside this frame"
	case calibrate.KindCard:
		return "measure its check line of 100 mm once and write check_line_mm into season.toml"
	}
	return "lay a card once beside it"
}
