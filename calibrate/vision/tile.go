//go:build cgo

package vision

import (
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
)

// findFramed finds a grid of strings, and the tiles at its frame's corners
// where ref says that it carries them. Mirrored ones are told by [InMirror].
func findFramed(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found {
	found := findGrid(p, ref, camera, seed)
	if found.Refused != nil || ref.TilesInCm == nil {
		return found
	}
	for _, c := range p.tiles() {
		if c.why == "" {
			found.Tiles = append(found.Tiles, calibrate.Tile{Number: c.number, Middle: c.middle, Corners: c.corners})
		}
	}
	return found
}

// findBoardNotOurs finds a checkerboard. A board of as many squares as one of our
// cards or tiles has may be just that, which has squares of another size.
func findBoardNotOurs(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found {
	found := findChecker(p, ref, camera, seed)
	if found.Refused != nil {
		return found
	}
	least, most := min(ref.SquaresAcross, ref.SquaresDown), max(ref.SquaresAcross, ref.SquaresDown)
	for _, own := range []struct {
		name   string
		family card.Family
		seen   func() []cardSeen
	}{{"card", card.Cards, p.cards}, {"tile", card.Tiles, p.tiles}} {
		if least != own.family.Rows || most != own.family.Columns {
			continue
		}
		if slices.ContainsFunc(own.seen(), func(c cardSeen) bool { return c.why == "" && amid(c.middle, found.Marks) }) {
			return look.Found{Refused: calibrate.Refuse("lay the board into the picture, or take it out of what is looked for", "%s: what was found is one of our own %ss, not the board", ref, own.name)}
		}
	}
	return found
}

// amid tells whether a place lies in the upright box about marks.
func amid(at calibrate.Point, marks []calibrate.Mark) bool {
	var left, right, above, below bool
	for _, m := range marks {
		left, right = left || m.At.XPx < at.XPx, right || m.At.XPx > at.XPx
		above, below = above || m.At.YPx < at.YPx, below || m.At.YPx > at.YPx
	}
	return left && right && above && below
}

// tiles are the tiles of frames in the picture, found once for all who ask; one
// that is not believed is seen as in a mirror. All reductions are looked at
// until four were found, since far corners are smaller than near ones.
func (p *Picture) tiles() []cardSeen {
	if p.tiled {
		return p.tilesSeen
	}
	p.tiled = true
	full, ok := p.raster()
	if !ok {
		return nil
	}
	for _, pass := range p.passes() {
		lattices, factor := p.lattices(pass)
		for _, l := range lattices {
			if c, ok := full.card(card.Tiles, l, p.blocksOf(pass).quads, p.Camera(), factor); ok && (c.why == "" || c.mirrored) {
				p.tilesSeen = withCard(p.tilesSeen, c)
			}
		}
		if len(p.tilesSeen) >= card.Tiles.Count() {
			break
		}
	}
	return p.tilesSeen
}

// InMirror tells that the tiles of a frame, where they were looked for, are all
// seen as in a mirror.
func InMirror(p *Picture) []look.Code {
	if len(p.tilesSeen) == 0 || slices.ContainsFunc(p.tilesSeen, func(c cardSeen) bool { return !c.mirrored }) {
		return nil
	}
	return []look.Code{{Mirrored: true}}
}
