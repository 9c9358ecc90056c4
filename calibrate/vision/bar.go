//go:build cgo

package vision

import (
	"errors"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// findBar finds a bar of alternating blocks in one or two rows: dark blocks
// that make a lattice, then their edges at full size. The picture is looked at
// reduced first, since blocks are mostly large; a barely reduced one follows.
func findBar(p *Picture, ref calibrate.Reference, camera calibrate.Camera, _ uint64) look.Found {
	if why := ref.ShortBar(); why != nil {
		return look.Found{Refused: why}
	}
	full, ok := p.raster()
	if !ok {
		return look.Found{Refused: calibrate.Refuse(retakeBar, "%s: the picture is too small to hold a bar", ref).At(calibrate.Unseen)}
	}
	refused := calibrate.Refuse(retakeBar, "%s: no row of dark and light blocks found", ref).At(calibrate.Unseen)
	most := 0 // blocks of the lattice that the refusal speaks of
	passes := p.passes()
	for _, pass := range passes {
		lattices, factor := p.lattices(pass)
		for _, l := range lattices {
			if pass < passes[0] && len(l.order) < minSmallBlocks {
				continue // small patches are many, and three in a row no rarity
			}
			marks, blocks, rows, why := full.bar(l, ref, camera, factor)
			if marks != nil {
				if _, err := calibrate.FitBar(ref, camera, marks); err != nil && !errors.As(err, &why) {
					why = calibrate.Refuse(retakeBar, "%s: %v", ref, err)
				}
			}
			if why != nil || marks == nil {
				tells := why != nil && len(l.order) > most
				p.considerBlocks(l, factor, tells)
				if tells {
					refused, most = why, len(l.order)
				}
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
