package stereo

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
)

// A View is one photo reduced, with what must not be matched in it.
type View struct {
	layers []layer // each half the one before
}

// A layer is a picture of logarithms of grey.
type layer struct {
	w, h   int
	fx, fy float64   // px of the photo for one px here: x = fx (X + 0.5) - 0.5
	value  []float32 // log(grey + 4), less a constant; not a number on strings
}

// layers is how often a picture is halved.
const halvings = 3

// NewView takes a reduced grey picture, w x h px, one byte each, of a photo of
// so many px. Strings are lines in px of the photo, with their widths.
func NewView(grey []byte, w, h, photoW, photoH int, strings [][]calibrate.Point, widthPx []float64) *View {
	l := layer{w: w, h: h, fx: float64(photoW) / float64(w), fy: float64(photoH) / float64(h), value: make([]float32, w*h)}
	var table [256]float32
	for i := range table {
		table[i] = float32(math.Log(float64(i)+4) - 4.6) // about zero in the middle of the greys: sums stay exact
	}
	for i, g := range grey {
		l.value[i] = table[g]
	}
	for i, line := range strings {
		half := widthPx[i]/2/l.fx + maskPx
		for k := 1; k < len(line); k++ {
			l.mask(line[k-1], line[k], half)
		}
	}
	v := &View{layers: []layer{l}}
	for range halvings {
		v.layers = append(v.layers, v.layers[len(v.layers)-1].halved())
	}
	return v
}

// nan marks what is left out.
var nan = float32(math.NaN())

// maskPx is how much is left out on each side of a string, in px of the
// reduced picture.
const maskPx = 1

// mask leaves out what lies within half px of a line.
func (l *layer) mask(a, b calibrate.Point, half float64) {
	ax, ay := (a.XPx+0.5)/l.fx-0.5, (a.YPx+0.5)/l.fy-0.5
	bx, by := (b.XPx+0.5)/l.fx-0.5, (b.YPx+0.5)/l.fy-0.5
	long := (bx-ax)*(bx-ax) + (by-ay)*(by-ay)
	for y := max(0, int(min(ay, by)-half)); y <= min(l.h-1, int(max(ay, by)+half)+1); y++ {
		for x := max(0, int(min(ax, bx)-half)); x <= min(l.w-1, int(max(ax, bx)+half)+1); x++ {
			t := 0.0
			if long > 0 {
				t = min(1, max(0, ((float64(x)-ax)*(bx-ax)+(float64(y)-ay)*(by-ay))/long))
			}
			dx, dy := float64(x)-ax-t*(bx-ax), float64(y)-ay-t*(by-ay)
			if dx*dx+dy*dy <= half*half {
				l.value[y*l.w+x] = nan
			}
		}
	}
}

// halved is the layer at half the size: means of what is not left out; a px of
// which less than half is there is left out itself.
func (l *layer) halved() layer {
	w, h := l.w/2, l.h/2
	out := layer{w: w, h: h, fx: 2 * l.fx, fy: 2 * l.fy, value: make([]float32, w*h)}
	for y := range h {
		for x := range w {
			i := 2*y*l.w + 2*x
			sum, n := float32(0), float32(0)
			for _, v := range [4]float32{l.value[i], l.value[i+1], l.value[i+l.w], l.value[i+l.w+1]} {
				if v == v {
					sum, n = sum+v, n+1
				}
			}
			out.value[y*w+x] = nan
			if n >= 2 {
				out.value[y*w+x] = sum / n
			}
		}
	}
	return out
}

// layerFor is the smallest layer that still shows so many px a cm at a scale of
// the photo.
func (v *View) layerFor(photoPxPerCm, pxPerCm float64) *layer {
	best := &v.layers[0]
	for i := range v.layers {
		if photoPxPerCm/v.layers[i].fx >= 0.9*pxPerCm {
			best = &v.layers[i]
		}
	}
	return best
}

// A drawer draws a layer on a lattice as a camera saw it.
type drawer struct {
	*layer
	camera relief.Camera
}

// pxPerCm is a camera's scale below the middle of a box, px of the photo.
func pxPerCm(c *relief.Camera, lo, hi [2]float64) float64 {
	u, v := (lo[0]+hi[0])/2, (lo[1]+hi[1])/2
	a, _ := c.Photo(u-0.5, v, 0)
	b, _ := c.Photo(u+0.5, v, 0)
	p, _ := c.Photo(u, v-0.5, 0)
	q, _ := c.Photo(u, v+0.5, 0)
	area := (b.XPx-a.XPx)*(q.YPx-p.YPx) - (b.YPx-a.YPx)*(q.XPx-p.XPx)
	return math.Sqrt(math.Abs(area))
}
