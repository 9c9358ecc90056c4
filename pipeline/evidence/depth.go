package evidence

import (
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// leastBelowCm is how far a card lies below the strings before it counts as
// lying on the bone's level: nearer, it may lie on the frame.
const leastBelowCm = 2

// DepthToBone is how far the bone lies below the reference of the photo's plates: as
// a person said of this photo; below strings as the sheet says of the set-up;
// else as far as a card that is seen with them, since cards are laid as high as
// the bone's upper side; else as several photos of the unmoved grid tell. nil: not known, or the photo shows plaster and no bone,
// or bone that lies no longer as it did under the strings that it was taped from.
func (p Photo) DepthToBone(number string) *figure.Depth {
	for _, d := range p.Words.Depths {
		if d.Value.Square == "" {
			return &figure.Depth{Cm: d.Value.DepthCm, On: "the word of " + p.Sheets.Season.PrintedName(d.Line.By)}
		}
	}
	_, sighting := p.Plane()
	if sighting != nil && sighting.Reference.Kind != calibrate.KindGrid {
		return nil // a set-up's depth counts from the strings
	}
	if p.Belongs.View.Plaster() {
		return nil
	}
	if s := p.Taped(number); s != nil && s.DepthToBoneCm != nil {
		return &figure.Depth{Cm: *s.DepthToBoneCm, On: "set-up " + s.Name}
	}
	if d := p.depthByCard(sighting); d != nil {
		return d
	}
	return p.depthByGround(number)
}

// Taped is the set-up whose depths to bone hold in the photo; nil: none is
// known, or the bone lies no longer as it did under its strings, unless a person
// named it for this photo.
func (p Photo) Taped(number string) *register.SetUp {
	if p.Belongs.View.Displaced() && p.Belongs.SetUp == "" {
		return nil
	}
	return p.SetUp(number)
}

// depthByCard is how far the card that is seen with the strings lies below them;
// nil where none does, or several.
func (p Photo) depthByCard(strings *calibrate.Sighting) (out *figure.Depth) {
	if strings == nil || strings.Reference.Kind != calibrate.KindGrid {
		return nil
	}
	for _, s := range p.Sightings {
		if s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		q, err := calibrate.DepthBetween(*strings, s)
		if err != nil || q.Value < leastBelowCm || q.Value < q.U {
			continue
		}
		if out != nil {
			return nil
		}
		out = &figure.Depth{Cm: q.Value, U: q.U, By: fmt.Sprintf("card %d", s.Reference.Card)}
	}
	return out
}

// AgainstCard says that the depth which is told contradicts the card that is
// seen with the strings; "": it does not.
func (p Photo) AgainstCard(number string) string {
	_, sighting := p.Plane()
	told, card := p.DepthToBone(number), p.depthByCard(sighting)
	if told == nil || card == nil || told.By != "" || math.Abs(card.Cm-told.Cm) <= math.Hypot(card.U, 2*figure.UDepthCm) {
		return ""
	}
	thing := calibrate.Thing(calibrate.KindGrid)
	return fmt.Sprintf("depth to bone: %s was told, %s was measured: one is wrong, or the card does not lie level with the top of the bone", told.Below(thing), card.Below(thing))
}

// DepthsBySquare are a set-up's depths to bone square by square, and what a
// person said of this photo, which goes before.
func (p Photo) DepthsBySquare(u *register.SetUp) (out []register.SquareDepth) {
	if u != nil {
		out = slices.Clone(u.DepthsToBone)
	}
	for _, d := range p.Words.Depths {
		if square := d.Value.Square; square != "" {
			out = slices.DeleteFunc(out, func(o register.SquareDepth) bool { return o.Square == square })
			out = append(out, register.SquareDepth{Square: square, DepthCm: d.Value.DepthCm})
		}
	}
	return out
}
