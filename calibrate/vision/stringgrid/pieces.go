package stringgrid

import "math"

// A Layer is the photo's lightness for the long way: the square root of the
// grey value, which evens out the noise of light and dark places, times
// [LightUnit], blurred by a Gaussian of [LayerSigma] px.
type Layer struct {
	Width, Height int
	Light         []uint16
	Factor        float64 // full size over the layer's
}

// What a layer is made by. LightOf fills a table for all grey values.
const (
	LayerSigma = 1.3
	LightUnit  = 64 // of one grey level of 255 at white
)

// LightOf is the lightness of a grey value, in units of a layer.
func LightOf(grey uint8) uint16 {
	return uint16(math.Round(math.Sqrt(float64(grey)*255) * LightUnit))
}

const (
	windowPx    = 256 // side of the windows that pieces are looked for in: what one needs stays in the cache
	leastPieceZ = 7   // grey levels by which a line must stand out
	leastPiece  = 10  // px of the layer
)

// A window holds the ridges of a part of a layer, one pixel more on all sides.
type window struct {
	ridgeMap
	strength []int32
}

// pieces are the straight pieces of light lines in a layer, in its pixels. The
// strength is that of Lindeberg's ridge measure for a light line (International
// Journal of Computer Vision 30(2), 1998, section 4; from memory): the larger
// curvature less the other's size, thinned to its crest.
func (l *Layer) pieces() (out []Segment) {
	n := (windowPx + 2) * (windowPx + 2)
	t := window{ridgeMap: ridgeMap{z: make([]float32, n), deg: make([]uint8, n), kind: make([]ridgeKind, n)}, strength: make([]int32, n)}
	for y0 := 1; y0 < l.Height-1; y0 += windowPx {
		for x0 := 1; x0 < l.Width-1; x0 += windowPx {
			t.width, t.height = min(windowPx, l.Width-1-x0)+2, min(windowPx, l.Height-1-y0)+2
			if !t.fill(l, x0-1, y0-1) {
				continue
			}
			t.thin()
			for _, s := range t.segments(leastPiece) {
				s.x, s.y = s.x+float64(x0-1), s.y+float64(y0-1)
				out = append(out, s)
			}
		}
	}
	return out
}

// layerGate is leastPieceZ in the units of second differences of a layer.
var layerGate = int32(math.Round(leastPieceZ * LightUnit / LayerSigma / LayerSigma))

// fill marks the light ridges of the window that begins at (x0, y0); false: none.
// A pixel on its rim is never marked.
func (t *window) fill(l *Layer, x0, y0 int) bool {
	w := t.width
	clear(t.strength[:w*t.height])
	clear(t.kind[:w*t.height])
	any := false
	for y := 1; y < t.height-1; y++ {
		from := (y0+y)*l.Width + x0
		up, mid, low := l.Light[from-l.Width:from-l.Width+w], l.Light[from:from+w], l.Light[from+l.Width:from+l.Width+w]
		mid, low = mid[:len(up)], low[:len(up)]
		for x := 1; x < len(up)-1; x++ {
			twice := 2 * int32(mid[x])
			xx, yy := int32(mid[x-1])+int32(mid[x+1])-twice, int32(up[x])+int32(low[x])-twice
			if xx+yy > -layerGate {
				continue
			}
			xy4 := int32(up[x-1]) - int32(up[x+1]) - int32(low[x-1]) + int32(low[x+1])
			apart, xy2 := float32(xx-yy), float32(xy4)/2
			root := float32(math.Sqrt(float64(apart*apart + xy2*xy2)))
			// The eigenvalues are half the trace and half the root either side of it.
			strength := min(int32(root), -xx-yy)
			if strength < layerGate {
				continue
			}
			p := y*w + x
			t.strength[p], t.deg[p], any = strength, halfTurnDeg(xy2, apart), true
		}
	}
	return any
}

// thin keeps of the ridges those pixels that are strongest across the line.
func (t *window) thin() {
	w := t.width
	for y := 1; y < t.height-1; y++ {
		for x := 1; x < w-1; x++ {
			p := y*w + x
			s := t.strength[p]
			if s == 0 {
				continue
			}
			across := acrossStep(t.deg[p], w)
			if t.strength[p-across] > s || t.strength[p+across] >= s {
				continue
			}
			t.kind[p], t.z[p] = lighter, float32(s)*LayerSigma*LayerSigma/LightUnit
		}
	}
}

// acrossStep is the step to the neighbour across a line of that direction.
func acrossStep(deg uint8, w int) int {
	switch {
	case deg < 23 || deg >= 158:
		return w
	case deg < 68:
		return w - 1
	case deg < 113:
		return 1
	}
	return w + 1
}
