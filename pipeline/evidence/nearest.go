package evidence

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
)

// Nearest is why a photo has no scale: the reasons of those references that
// came nearest to it. cards are the numbers that were read of cards in the photo; one
// that no reference names came nearer than what was not there. nil: nothing was
// refused.
func Nearest(sightings []calibrate.Sighting, cards []int) *calibrate.Refusal {
	var refused []*calibrate.Refusal
	var names []string
	for _, s := range sightings {
		names = append(names, s.Reference.String())
		if s.Refused != nil && !(s.Reference.Kind == calibrate.KindCard && s.Refused.Near == calibrate.Other) {
			refused = append(refused, s.Refused)
		}
	}
	for _, n := range cards {
		named := func(s calibrate.Sighting) bool {
			return s.Reference.Kind == calibrate.KindCard && (s.Reference.Card == n || s.Reference.Card == 0)
		}
		if n > 0 && !slices.ContainsFunc(sightings, named) {
			refused = append(refused, calibrate.Refuse(fmt.Sprintf("write a [[reference]] of kind \"card\" with card = %d into season.toml, with what its check line measures", n),
				"card %d lies in the picture, but season.toml has no card of this number", n).At(calibrate.Other))
		}
	}
	if len(refused) == 0 {
		return nil
	}
	near := slices.MaxFunc(refused, func(a, b *calibrate.Refusal) int { return int(a.Near - b.Near) }).Near
	var reasons []string
	retake := ""
	for _, r := range refused {
		if r.Near == near && !slices.Contains(reasons, r.Reason) {
			reasons = append(reasons, r.Reason)
			if retake == "" {
				retake = r.Retake
			}
		}
	}
	if near == calibrate.Unseen && len(reasons) > 1 {
		reasons = []string{"nothing of this is found in the picture: " + strings.Join(names, ", ")}
	}
	return calibrate.Refuse(retake, "%s", strings.Join(reasons, "; ")).At(near)
}
