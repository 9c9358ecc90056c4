package evidence

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// A Squaring is what is known of the squares of a set-up in a photo.
type Squaring struct {
	Squares *figure.Squares // nil: they cannot be named
	Origin  *figure.Origin  // that they go by
	ByCard  bool            // a card tells it, and nobody marked it
	Says    string          // what in the picture they are named from; "": a person marked it
	Why     string          // Squares is nil
	Against []string        // what contradicts a person's word or the sheets
}

// Squaring names the squares under strings by the origin corner that a person
// marked, else by the tiles at the frame's corners, else by a card that
// season.toml says is always laid at the origin corner. A person's word counts
// before what the picture tells; that they differ is told. What in the picture
// differs from the sheets, or from each other, names nothing.
func (p Photo) Squaring(u register.SetUp, strings calibrate.Sighting) (out Squaring) {
	tiles, told, against := p.originTiles(u, strings)
	card, untold := p.originCard(u, strings)
	pitch := strings.Reference.PitchCm
	if p.Marks != nil && p.Marks.Origin != nil {
		out.Origin = p.Marks.Origin
		out.Squares, out.Why = figure.SquaresOf(strings.Plane, pitch, u, out.Origin)
		differs := func(o *figure.Origin, says string) {
			if o == nil || out.Why != "" {
				return
			}
			if other, why := figure.SquaresOf(strings.Plane, pitch, u, o); why == "" && !out.Squares.Same(other) {
				out.Against = append(out.Against, fmt.Sprintf("squares: named as %s; %s%s", out.Origin.From, o.From, says))
			}
		}
		differs(tiles, " tell them otherwise")
		differs(card, ", which is always laid at the origin corner, tells them otherwise")
		return out
	}
	switch {
	case tiles != nil:
		out.Origin, out.Says = tiles, "from "+tiles.From+tiledAngle(strings.Tiled)
		if told := strings.Tiled; told.Letters != nil {
			u.Cells = &register.Cells{Across: told.Across, Down: told.Down}
		}
	case told != "" && (card == nil || against):
		out.Why = told
		if against {
			out.Against = append(out.Against, "squares: "+told)
		}
		return out
	case card != nil:
		out.Origin, out.ByCard, out.Says = card, true, "from the corner where "+card.From+" lies"
	default:
		if out.Why = "nobody marked the origin corner in this photo" + p.unseenCard(); untold != "" {
			out.Why = untold
			out.Against = append(out.Against, "squares: "+untold)
		}
		return out
	}
	out.Squares, out.Why = figure.SquaresOf(strings.Plane, pitch, u, out.Origin)
	switch {
	case out.Why != "":
	case out.Squares.Against(u.LettersRun) && out.ByCard:
		out.Why = fmt.Sprintf("by %s's arrow the letters do not run %s, as letters_run of set-up %s says: correct it, or turn the card", card.From, u.LettersRun, u.Name)
	case out.Squares.Against(u.LettersRun):
		out.Why = fmt.Sprintf("by %s the letters do not run %s, as letters_run of set-up %s says: correct it, or change the tiles", tiles.From, u.LettersRun, u.Name)
	case tiles != nil && card != nil:
		if other, why := figure.SquaresOf(strings.Plane, pitch, u, card); why == "" && !out.Squares.Same(other) {
			out.Why = fmt.Sprintf("%s tell them otherwise than %s, which is always laid at the origin corner: lay the card there, or change the tiles", tiles.From, card.From)
		}
	}
	if out.Why != "" {
		out.Squares = nil
		out.Against = append(out.Against, "squares: "+out.Why)
	}
	return out
}

// originCard is the origin corner by a card that is always laid there; nil with
// the reason where such a card is seen and does not tell it, without where none
// is.
func (p Photo) originCard(u register.SetUp, strings calibrate.Sighting) (o *figure.Origin, untold string) {
	for _, s := range p.Sightings {
		if s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		along := p.Sheets.Season.Card(s.Reference.Card).Origin
		if along == "" {
			continue
		}
		name := fmt.Sprintf("card %d", s.Reference.Card)
		if o != nil {
			return nil, fmt.Sprintf("%s lies beside %s, and both are laid at the origin corner: leave one out of the picture", name, o.From)
		}
		at, why := p.cornerOf(s, strings, along, u)
		if why != "" {
			return nil, name + ": " + why
		}
		o = at
		o.From = name
	}
	return o, ""
}

// originTiles is the origin corner by the tiles at the frame's corners; nil
// with the reason where the frame carries such and they do not tell it. against:
// they contradict themselves or the sheets.
func (p Photo) originTiles(u register.SetUp, strings calibrate.Sighting) (o *figure.Origin, untold string, against bool) {
	told := strings.Tiled
	switch {
	case told == nil:
		return nil, "", false
	case told.Untold != "":
		return nil, told.Untold, told.Doubt
	case p.Belongs.View.Displaced():
		return nil, "the block lies no longer as it did under the set-up's frame, whatever tiles lie about it: mark the corner on the review page", true
	}
	if _, said := figure.Clockwise(u.LettersRun); told.Letters == nil && !said {
		return nil, "the tiles A1 and FAR alone do not tell which way the letters run: letters_run of the set-up would, or a third tile", false
	}
	if c := u.Cells; c != nil && (min(c.Across, c.Down) != min(told.Across, told.Down) || max(c.Across, c.Down) != max(told.Across, told.Down)) {
		return nil, fmt.Sprintf("the tiles at the frame's corners stand %d x %d squares apart, but set-up %s has %d x %d: correct its squares, or change the tiles", told.Across, told.Down, u.Name, c.Across, c.Down), true
	}
	return &figure.Origin{Corner: *told.Corner, LettersTo: told.Letters, From: "the tiles at the frame's corners"}, "", false
}

// tiledAngle is what tiles say of the frame's shape.
func tiledAngle(told *calibrate.Tiled) string {
	if told.AngleDeg == nil {
		return ""
	}
	return fmt.Sprintf(", which show its strings to cross at %s°", told.AngleDeg)
}

// unseenCard is why a card that is always laid at the origin corner is not
// found; "" where the season has none.
func (p Photo) unseenCard() (why string) {
	for _, s := range p.Sightings {
		if s.Refused != nil && s.Reference.Kind == calibrate.KindCard && p.Sheets.Season.Card(s.Reference.Card).Origin != "" {
			why += ", and the card that is laid there is not seen (" + s.Refused.Reason + ")"
		}
	}
	return why
}

func (p Photo) cornerOf(card, strings calibrate.Sighting, along string, u register.SetUp) (*figure.Origin, string) {
	if p.Belongs.View.Displaced() {
		return nil, "the block lies no longer as it did under the set-up's frame, whatever card lies there: mark the corner on the review page"
	}
	cells := u.Cells
	if cells == nil {
		ref := strings.Reference
		if ref.CellsAcross == 0 {
			return nil, "how many squares the frame has is not known, so neither are its corners: say it in the set-up's squares, or mark the corner on the review page"
		}
		cells = &register.Cells{Across: ref.CellsAcross, Down: ref.CellsDown}
	}
	if _, said := figure.Clockwise(u.LettersRun); along == register.OriginCorner && !said {
		return nil, "it lies at the origin corner, but letters_run of set-up " + u.Name + " does not say clockwise or anticlockwise"
	}
	return figure.OriginByCard(strings, card, along, *cells)
}
