//go:build cgo

package vision

import (
	"errors"
	"fmt"
	"math"

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
			if c, ok := full.card(card.Cards, l, p.blocksOf(pass).quads, p.Camera(), factor); ok {
				p.cardsSeen = withCard(p.cardsSeen, c)
				believed = believed || c.why == ""
			}
		}
		if believed {
			break
		}
	}
	return p.cardsSeen
}

// withCard adds a card to those seen. What lies across a card, a string or a
// stick, makes several lattices of its squares: one card all the same, of which
// the one with the most sides counts.
func withCard(seen []cardSeen, c cardSeen) []cardSeen {
	for i, o := range seen {
		if c.why != "" || o.why != "" || c.number != o.number || !c.lies(o) {
			continue
		}
		if len(c.marks) > len(o.marks) {
			seen[i] = c
		}
		return seen
	}
	return append(seen, c)
}

// lies tells whether two cards lie in one place, to a square.
func (c cardSeen) lies(o cardSeen) bool {
	side := func(a, b int) float64 {
		return math.Hypot(c.corners[a].XPx-c.corners[b].XPx, c.corners[a].YPx-c.corners[b].YPx)
	}
	square := min(side(0, 1), side(2, 3))/float64(card.Cards.Columns)/2 + min(side(1, 2), side(3, 0))/float64(card.Cards.Rows)/2
	for i, at := range c.corners {
		if !(math.Hypot(at.XPx-o.corners[i].XPx, at.YPx-o.corners[i].YPx) < square) {
			return false
		}
	}
	return true
}

// findCard finds the card that ref names, or any one.
func findCard(p *Picture, ref calibrate.Reference, camera calibrate.Camera, _ uint64) look.Found {
	refused := calibrate.Refuse(retakeCard, "%s: no card found", ref).At(calibrate.Unseen)
	var found []look.Found
	for _, c := range p.cards() {
		switch {
		case c.why != "":
			refused = calibrate.Refuse(retakeCard, "%s: %s", ref, c.why)
			continue
		case ref.Card != 0 && c.number != ref.Card:
			refused = calibrate.Refuse("lay the card that is asked for, or name this one", "%s: the card in the picture is number %d", ref, c.number).At(calibrate.Other)
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
		if c.mirrored {
			codes = append(codes, look.Code{Mirrored: true})
		}
	}
	return codes
}
