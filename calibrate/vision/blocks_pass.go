//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// A blockPass is what one reduction of the picture held: worked out once for
// all finders that look for blocks.
type blockPass struct {
	quads    []quad
	lattices []blockLattice
	factor   int // full size over this one's
}

// halves gives the grey picture halved until its long side is below the least
// that blocks are looked for in, each half made of the one before: an exact
// half takes a tenth of the time that other reductions do. The caller closes
// all but the first, which is the full picture.
func (p *Picture) halves() []gocv.Mat {
	all := []gocv.Mat{p.Grey}
	for {
		m := all[len(all)-1]
		w, h := m.Cols()/2, m.Rows()/2
		if max(w, h) < leastLookingPx || min(w, h) < 32 {
			return all
		}
		even := m.Region(image.Rect(0, 0, 2*w, 2*h))
		half := gocv.NewMat()
		gocv.Resize(even, &half, image.Pt(w, h), 0, 0, gocv.InterpolationArea)
		even.Close()
		all = append(all, half)
	}
}

const (
	leastLookingPx = 450  // long side of the smallest reduction
	firstLookingPx = 900  // the first that is looked at is at least this long
	roughLookingPx = 2600 // a longer one is looked at for small blocks only
)

// passes is the order in which the reductions are looked at, by how often they
// were halved: most blocks are seen in the first, those that fill the picture
// in the second, small ones in the others.
func (p *Picture) passes() []int {
	w, h := p.Size()
	first, last := 0, 0
	for long, n := max(w, h), 0; long >= leastLookingPx && min(w, h)>>n >= 32; long, n = long/2, n+1 {
		if long >= firstLookingPx {
			first = n
		}
		last = n
	}
	order := []int{first}
	for n := first + 1; n <= last; n++ {
		order = append(order, n)
	}
	for n := first - 1; n >= 0; n-- {
		order = append(order, n)
	}
	return order
}

// lattices gives the lattices of dark blocks in one reduction, with the factor
// by which it is smaller than the full picture.
func (p *Picture) lattices(pass int) ([]blockLattice, float64) {
	held := p.blocksOf(pass)
	return held.lattices, float64(held.factor)
}

// blocksOf gives what one reduction holds.
func (p *Picture) blocksOf(pass int) *blockPass {
	if p.reduced == nil {
		p.reduced = p.halves()
		p.looked = make([]*blockPass, len(p.reduced))
	}
	if p.looked[pass] == nil {
		m := p.reduced[pass]
		looks := blockLooks
		if max(m.Cols(), m.Rows()) > roughLookingPx {
			looks = smallLooks
		}
		quads := blocks(m, looks)
		p.looked[pass] = &blockPass{quads, growLattices(quads), 1 << pass}
	}
	return p.looked[pass]
}
