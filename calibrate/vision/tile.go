//go:build cgo

package vision

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
)

const retakeMirrored = "copy the photo from the phone as it was taken, not turned left to right"

// findFramed finds a grid of strings, and the tiles at its frame's corners
// where ref says that it carries them. A grid looks the same in a mirror; a
// tile does not.
func findFramed(p *Picture, ref calibrate.Reference, camera calibrate.Camera, seed uint64) look.Found {
	found := findGrid(p, ref, camera, seed)
	if found.Refused != nil || ref.TilesInCm == nil {
		return found
	}
	tiles, mirrored := p.tiles()
	if mirrored {
		return look.Found{Refused: calibrate.Refuse(retakeMirrored, "%s: a tile of its frame is seen mirrored: the photo was turned left to right", ref)}
	}
	found.Tiles = tiles
	return found
}

// tiles are the tiles of frames in the picture; mirrored: one of them is seen
// as in a mirror. All reductions are looked at until four were found, since
// far corners are smaller than near ones.
func (p *Picture) tiles() (tiles []calibrate.Tile, mirrored bool) {
	full, ok := p.raster()
	if !ok {
		return nil, false
	}
	for _, pass := range p.passes() {
		lattices, factor := p.lattices(pass)
		for _, l := range lattices {
			c, ok := full.card(card.Tiles, l, p.Camera(), factor)
			mirrored = mirrored || c.mirrored
			if tile := (calibrate.Tile{Number: c.number, Middle: c.middle, Corners: c.corners}); ok && c.why == "" && !seenBefore(tiles, tile) {
				tiles = append(tiles, tile)
			}
		}
		if len(tiles) >= card.Tiles.Count() {
			break
		}
	}
	return tiles, mirrored
}

// seenBefore tells whether one of the tiles lies where this one does.
func seenBefore(tiles []calibrate.Tile, tile calibrate.Tile) bool {
	for _, t := range tiles {
		side := math.Hypot(t.Corners[0].XPx-t.Corners[2].XPx, t.Corners[0].YPx-t.Corners[2].YPx) / 2
		if math.Hypot(t.Middle.XPx-tile.Middle.XPx, t.Middle.YPx-tile.Middle.YPx) < side {
			return true
		}
	}
	return false
}
