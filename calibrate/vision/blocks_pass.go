//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// A blockPass is what one reduction of the picture held: worked out once for
// all finders that look for blocks.
type blockPass struct {
	lattices []blockLattice
	factor   float64
	done     bool
}

// passPx are the long sides to which the picture is reduced, in turn.
var passPx = []int{1200, 2400}

// passes is how many reductions the picture is worth.
func (p *Picture) passes() int {
	w, h := p.Size()
	n := 1
	for n < len(passPx) && max(w, h) > passPx[n-1]*5/4 {
		n++
	}
	return n
}

// lattices gives the lattices of dark blocks in one reduction, with the factor
// by which it is smaller than the full picture.
func (p *Picture) lattices(pass int) ([]blockLattice, float64) {
	if p.looked == nil {
		p.looked = make([]blockPass, len(passPx))
	}
	b := &p.looked[pass]
	if b.done {
		return b.lattices, b.factor
	}
	b.done = true
	if pass == 0 {
		small, factor := p.Small()
		b.lattices, b.factor = growLattices(blocks(small)), factor
		return b.lattices, b.factor
	}
	w, h := p.Size()
	b.factor = max(1, float64(max(w, h))/float64(passPx[pass]))
	if b.factor == 1 {
		b.lattices = growLattices(blocks(p.Grey))
		return b.lattices, b.factor
	}
	m := gocv.NewMat()
	defer m.Close()
	gocv.Resize(p.Grey, &m, image.Pt(int(float64(w)/b.factor+0.5), int(float64(h)/b.factor+0.5)), 0, 0, gocv.InterpolationArea)
	b.lattices = growLattices(blocks(m))
	return b.lattices, b.factor
}
