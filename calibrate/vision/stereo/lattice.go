package stereo

import (
	"math"

	"fieldjacket/calibrate/relief"
)

// A lattice is a raster on the strings' plane: px (x, y) lies at
// (u0 + x/perCm, v0 + y/perCm) cm. Its blocks are squares of so many px.
type lattice struct {
	u0, v0, perCm float64
	w, h          int // px, whole blocks
	block         int // px
	cols, rows    int // blocks
}

func newLattice(lo, hi [2]float64, perCm float64, block int) lattice {
	l := lattice{u0: lo[0], v0: lo[1], perCm: perCm, block: block}
	l.cols, l.rows = int((hi[0]-lo[0])*perCm)/block, int((hi[1]-lo[1])*perCm)/block
	l.w, l.h = l.cols*block, l.rows*block
	return l
}

// middle is where the middle of a block lies on the plane.
func (l *lattice) middle(col, row int) (u, v float64) {
	half := (float64(l.block) - 1) / 2
	return l.u0 + (float64(col*l.block)+half)/l.perCm, l.v0 + (float64(row*l.block)+half)/l.perCm
}

// sight takes a px of the lattice to the straight picture of a camera: the
// place on the plane is moved along the first camera's rays to a level.
func (l *lattice) sight(camera, first *relief.Camera, below float64) [9]float64 {
	h := camera.Level(below)
	c := first.PlaceCm()
	grow := 1 + below/-c[2] // (u, v) -> c + grow ((u, v) - c)
	au, av := grow/l.perCm, grow/l.perCm
	bu, bv := c[0]+grow*(l.u0-c[0]), c[1]+grow*(l.v0-c[1])
	var out [9]float64
	for i := range 3 {
		out[3*i] = h[3*i] * au
		out[3*i+1] = h[3*i+1] * av
		out[3*i+2] = h[3*i]*bu + h[3*i+1]*bv + h[3*i+2]
	}
	return out
}

// lens is what takes the straight picture to a layer.
type lens struct{ fx, fy, cx, cy, k1 float32 }

func (d *drawer) lens() lens {
	f, k1, px, py := d.camera.Lens()
	return lens{float32(f / d.fx), float32(f / d.fy), float32((px+0.5)/d.fx - 0.5), float32((py+0.5)/d.fy - 0.5), float32(k1)}
}

// at samples a layer; not a number on strings and beyond the picture.
func (d *layer) at(x, y float32) float32 {
	if !(x >= 0 && y >= 0 && x < float32(d.w-1) && y < float32(d.h-1)) {
		return nan
	}
	i, j := int(x), int(y)
	fx, fy := x-float32(i), y-float32(j)
	n := j*d.w + i
	top, low := d.value[n:n+2:n+2], d.value[n+d.w:n+d.w+2:n+d.w+2]
	a, b := top[0]+fx*(top[1]-top[0]), low[0]+fx*(low[1]-low[0])
	return a + fy*(b-a)
}

// drawRow draws px from x on of row y of a lattice into value.
func (d *drawer) drawRow(h *[9]float64, n *lens, from, y int, value []float32) {
	fy := float64(y)
	x0, y0, w0 := float32(h[1]*fy+h[2]), float32(h[4]*fy+h[5]), float32(h[7]*fy+h[8])
	dx, dy, dw := float32(h[0]), float32(h[3]), float32(h[6])
	right, below := float32(d.w-1), float32(d.h-1)
	all, width := d.value, d.w
	for k := range value {
		fx := float32(from + k)
		in := 1 / (w0 + dw*fx)
		a, b := (x0+dx*fx)*in, (y0+dy*fx)*in
		s := 1 + n.k1*(a*a+b*b)
		x, y := n.fx*a*s+n.cx, n.fy*b*s+n.cy
		if !(x >= 0 && y >= 0 && x < right && y < below) {
			value[k] = nan
			continue
		}
		i, j := int(x), int(y) // as in at, which the compiler does not take in here
		px, py := x-float32(i), y-float32(j)
		o := j*width + i
		top, low := all[o:o+2:o+2], all[o+width:o+width+2:o+width+2]
		t, l := top[0]+px*(top[1]-top[0]), low[0]+px*(low[1]-low[0])
		value[k] = t + py*(l-t)
	}
}

// draw draws a whole level.
func (d *drawer) draw(l *lattice, first *relief.Camera, below float64) []float32 {
	out := make([]float32, l.w*l.h)
	h, n := l.sight(&d.camera, first, below), d.lens()
	for y := range l.h {
		d.drawRow(&h, &n, 0, y, out[y*l.w:(y+1)*l.w])
	}
	return out
}

// stepCm is the change of depth that moves what lies at a level by px of the
// lattice in the second photo.
func (l *lattice) stepCm(first, second *relief.Camera, below, px float64) float64 {
	c := first.PlaceCm()
	u, v := l.u0+float64(l.w)/2/l.perCm, l.v0+float64(l.h)/2/l.perCm
	along := func(d float64) (float64, float64) {
		grow := 1 + d/-c[2]
		return c[0] + grow*(u-c[0]), c[1] + grow*(v-c[1])
	}
	u0, v0 := along(below)
	u1, v1 := along(below + 0.1)
	p, ok := second.Photo(u1, v1, below+0.1)
	back, backV, ok2 := second.Ground(p, below)
	if !ok || !ok2 {
		return math.Inf(1)
	}
	return 0.1 * px / (math.Hypot(back-u0, backV-v0) * l.perCm)
}
