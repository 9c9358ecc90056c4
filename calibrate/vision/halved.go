//go:build cgo

package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// halvedTo is the picture in colour, halved as often as its long side stays
// at leastPx and its sides are even. All who want it smaller start there: an
// exact half takes a tenth of the time that other reductions do. The picture
// keeps it.
func (p *Picture) halvedTo(leastPx float64) gocv.Mat {
	if p.halved == nil {
		p.halved = []gocv.Mat{p.Colour}
	}
	for n := 0; ; n++ {
		m := p.halved[n]
		w, h := m.Cols(), m.Rows()
		if w%2 != 0 || h%2 != 0 || float64(max(w, h))/2 < leastPx {
			return m
		}
		if n+1 == len(p.halved) {
			half := gocv.NewMat()
			gocv.Resize(m, &half, image.Pt(w/2, h/2), 0, 0, gocv.InterpolationArea)
			p.halved = append(p.halved, half)
		}
	}
}

// means reduces the picture in colour to a size, each pixel the mean of what
// it covers. The caller closes it.
func (p *Picture) means(size image.Point) gocv.Mat {
	long := float64(max(size.X, size.Y))
	if m := p.halvedTo(long); m.Cols() == size.X && m.Rows() == size.Y {
		return m.Region(image.Rectangle{Max: size})
	}
	out := gocv.NewMat()
	gocv.Resize(p.halvedTo(1.9*long), &out, size, 0, 0, gocv.InterpolationArea) // from less, some pixels would be blurred more than others
	return out
}
