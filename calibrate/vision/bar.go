//go:build cgo

package vision

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

const retakeBar = "lay the bar beside the bone, clean and in even light, and go nearer, so that a block is at least as wide as a pencil in the picture"

// findBar finds a bar of alternating blocks in one or two rows: dark blocks
// that make a lattice, then their edges at full size. The picture is looked at
// reduced first, since blocks are mostly large; a barely reduced one follows.
func findBar(p *Picture, ref calibrate.Reference, camera calibrate.Camera, _ uint64) look.Found {
	w, h := p.Size()
	grey, err := p.Grey.DataPtrUint8()
	if err != nil || len(grey) != w*h {
		return look.Found{Refused: calibrate.Refuse(retakeBar, "%s: the picture is too small to hold a bar", ref)}
	}
	full := greyRaster{w, h, grey}
	refused := calibrate.Refuse(retakeBar, "%s: no row of dark and light blocks found", ref)
	for pass := range p.passes() {
		lattices, factor := p.lattices(pass)
		for _, l := range lattices {
			marks, blocks, rows, why := full.bar(l, ref, camera, factor)
			if why != nil {
				refused = why
				continue
			}
			if marks == nil {
				continue
			}
			word := "row"
			if rows > 1 {
				word = "rows"
			}
			return look.Found{Marks: marks, Counted: fmt.Sprintf("%d blocks of %g cm in %d %s", blocks, ref.BlockCm, rows, word)}
		}
	}
	return look.Found{Refused: refused}
}
