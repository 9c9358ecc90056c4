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
			if c, ok := full.card(card.Tiles, l, p.Camera(), factor); ok && (c.why == "" || c.mirrored) {
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
