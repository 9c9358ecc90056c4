//go:build cgo

package vision

import (
	"errors"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
)

const retakeCard = "lay the card flat beside the bone, face up and clean, and go nearer, so that it fills at least a twelfth of the picture's width"

// cards are our cards in the picture, found once for all who ask. The first
// reduction in which one is found is the last that is looked at.
func (p *Picture) cards() []cardSeen {
	if p.carded {
		return p.cardsSeen
	}
	p.carded = true
	full, ok := p.raster()
	if !ok {
		return nil
	}
	for _, pass := range p.passes() {
		lattices, factor := p.lattices(pass)
		believed := false
		for _, l := range lattices {
			if c, ok := full.card(card.Cards, l, p.Camera(), factor); ok {
				p.cardsSeen = append(p.cardsSeen, c)
				believed = believed || c.why == ""
			}
		}
		if believed {
			break
		}
	}
	return p.cardsSeen
}

// findCard finds the card that ref names, or any one.
func findCard(p *Picture, ref calibrate.Reference, camera calibrate.Camera, _ uint64) look.Found {
	refused := calibrate.Refuse(retakeCard, "%s: no card found", ref)
	var found []look.Found
	for _, c := range p.cards() {
		switch {
		case c.why != "":
			refused = calibrate.Refuse(retakeCard, "%s: %s", ref, c.why)
			continue
		case ref.Card != 0 && c.number != ref.Card:
			refused = calibrate.Refuse("lay the card that is asked for, or name this one", "%s: the card in the picture is number %d", ref, c.number)
			continue
		}
		if _, err := calibrate.FitCard(ref, camera, c.marks); err != nil {
			if !errors.As(err, &refused) {
				refused = calibrate.Refuse(retakeCard, "%s: %v", ref, err)
			}
			continue
		}
		found = append(found, look.Found{Marks: c.marks, Counted: fmt.Sprintf("number %d, %d of its %d light squares read", c.number, c.read, len(card.Cards.LightCells()))})
	}
	switch len(found) {
	case 0:
		return look.Found{Refused: refused}
	case 1:
		return found[0]
	}
	return look.Found{Refused: calibrate.Refuse("name the card that counts by its number in season.toml, or leave one out of the picture", "%s: %d cards in the picture, and nothing tells which one counts", ref, len(found))}
}

// Codes are what our cards in the picture say, and where they lie.
func Codes(p *Picture) (codes []look.Code) {
	for _, c := range p.cards() {
		if c.why == "" {
			codes = append(codes, look.Code{Card: c.number, Corners: c.corners})
		}
	}
	return codes
}
