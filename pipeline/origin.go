package pipeline

import (
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// A squaring is what is known of the squares of a set-up in a photo.
type squaring struct {
	squares *figure.Squares // nil: they cannot be named
	origin  *figure.Origin  // that they go by
	byCard  bool            // and nobody marked it
	why     string          // squares is nil
	against []string        // what contradicts a person's word or the sheets
}

// squaring names the squares under strings by the origin corner that a person
// marked, else by a card that season.toml says is always laid there. A
// person's word counts before the card's; that they differ is told.
func (t *task) squaring(u register.SetUp, strings calibrate.Sighting) (out squaring) {
	card, untold := t.originCard(u, strings)
	if t.said != nil && t.said.Origin != nil {
		out.origin = t.said.Origin
		out.squares, out.why = figure.SquaresOf(strings.Plane, strings.Reference.PitchCm, u, out.origin)
		if card == nil || out.why != "" {
			return out
		}
		if other, why := figure.SquaresOf(strings.Plane, strings.Reference.PitchCm, u, card); why == "" && !out.squares.Same(other) {
			out.against = append(out.against, fmt.Sprintf("squares: named as %s; %s, which is always laid at the origin corner, tells them otherwise", out.origin.From, card.From))
		}
		return out
	}
	out.byCard = card != nil
	if card == nil {
		if out.why = "nobody marked the origin corner in this photo" + t.unseenCard(); untold != "" {
			out.why = untold
			out.against = append(out.against, "squares: "+untold)
		}
		return out
	}
	out.origin = card
	out.squares, out.why = figure.SquaresOf(strings.Plane, strings.Reference.PitchCm, u, card)
	if out.why == "" && out.squares.Against(u.LettersRun) {
		out.why = fmt.Sprintf("by %s's arrow the letters do not run %s, as letters_run of set-up %s says: correct it, or turn the card", card.From, u.LettersRun, u.Name)
	}
	if out.why != "" {
		out.squares = nil
		out.against = append(out.against, "squares: "+out.why)
	}
	return out
}

// originCard is the origin corner by a card that is always laid there; nil with
// the reason where such a card is seen and does not tell it, without where none
// is.
func (t *task) originCard(u register.SetUp, strings calibrate.Sighting) (o *figure.Origin, untold string) {
	for _, s := range t.r.Sightings {
		if s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		along := t.season.Register.Season.Card(s.Reference.Card).Origin
		if along == "" {
			continue
		}
		name := fmt.Sprintf("card %d", s.Reference.Card)
		if o != nil {
			return nil, fmt.Sprintf("%s lies beside %s, and both are laid at the origin corner: leave one out of the picture", name, o.From)
		}
		at, why := t.cornerOf(s, strings, along, u)
		if why != "" {
			return nil, name + ": " + why
		}
		o = at
		o.From = name
	}
	return o, ""
}

// unseenCard is why a card that is always laid at the origin corner is not
// found; "" where the season has none.
func (t *task) unseenCard() (why string) {
	for _, s := range t.r.Sightings {
		if s.Refused != nil && s.Reference.Kind == calibrate.KindCard && t.season.Register.Season.Card(s.Reference.Card).Origin != "" {
			why += "; a card that is laid there is not found: " + s.Refused.Reason
		}
	}
	return why
}

func (t *task) cornerOf(card, strings calibrate.Sighting, along string, u register.SetUp) (*figure.Origin, string) {
	view := t.r.Belongs.View
	if view == register.ViewUnderside || slices.Contains(awayViews, view) {
		return nil, "the block lies no longer as it did under the set-up's frame, whatever card lies there: mark the corner on the review page"
	}
	cells := u.Cells
	if cells == nil {
		ref := strings.Reference
		if ref.CellsAcross == 0 {
			return nil, "how many squares the frame has is not known, so neither are its corners: say it in the set-up's cells, or mark the corner on the review page"
		}
		cells = &register.Cells{Across: ref.CellsAcross, Down: ref.CellsDown}
	}
	if _, said := figure.Clockwise(u.LettersRun); along == register.OriginCorner && !said {
		return nil, "it lies at the origin corner, but letters_run of set-up " + u.Name + " does not say clockwise or anticlockwise"
	}
	return figure.OriginByCard(strings, card, along, *cells)
}
