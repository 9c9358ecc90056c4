package evidence

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// Arrows are what in the photo points north: the arrow that a person set, else
// those of the cards that are always laid by compass. A card may lie at
// another level than the plate's own reference: seen from one place, a
// direction is the same on both. untold is why a card that is seen tells no
// north; "": none is, or it does.
func (p Photo) Arrows() (arrows []figure.NorthArrow, untold string) {
	if p.Marks != nil && p.Marks.North != nil {
		return []figure.NorthArrow{*p.Marks.North}, ""
	}
	for _, s := range p.Sightings {
		if s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		carried := p.Sheets.Season.Card(s.Reference.Card)
		of := carried.Arrow
		if carried.ArrowEnd != "" {
			continue // it tells an end, see EndArrow
		}
		if of == "" {
			untold = fmt.Sprintf("season.toml does not say to which north the arrow of card %d is laid", s.Reference.Card)
			continue
		}
		if p.Belongs.View.Elsewhere() {
			untold = fmt.Sprintf("the block lies no longer where it was found, whatever the arrow of card %d says", s.Reference.Card)
			continue
		}
		if from, to, ok := s.Plane.CardArrow(); ok {
			arrows = append(arrows, figure.NorthArrow{
				Arrow: figure.Arrow{Tail: from, Head: to}, Of: of, From: fmt.Sprintf("card %d's arrow, laid by compass", s.Reference.Card),
			})
		}
	}
	return arrows, untold
}

// EndArrow is the arrow of a card that is always laid towards an end of the
// fossil; nil where no card tells an end, or two point different ways: against
// says so.
func (p Photo) EndArrow() (arrow *figure.EndArrow, against string) {
	for _, s := range p.Sightings {
		if s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		end := p.Sheets.Season.Card(s.Reference.Card).ArrowEnd
		from, to, ok := s.Plane.CardArrow()
		if end == "" || !ok {
			continue
		}
		if arrow != nil {
			return nil, fmt.Sprintf("ends: card %d lies beside %s, and both are laid towards an end: leave one out of the picture", s.Reference.Card, arrow.From)
		}
		arrow = &figure.EndArrow{Arrow: figure.Arrow{Tail: from, Head: to}, To: end, From: fmt.Sprintf("card %d's arrow", s.Reference.Card)}
	}
	return arrow, ""
}
