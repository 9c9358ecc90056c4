package stereo

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// moments are sums over a block of the products that the least-squares shift
// needs: of (gx, gy, b, 1), which are to make up a.
type moments struct {
	n    float64
	by   [4][4]float64 // upper triangle
	with [4]float64
	aa   float64
}

func (m *moments) add(o *moments) {
	m.n += o.n
	m.aa += o.aa
	for i := range 4 {
		m.with[i] += o.with[i]
		for j := i; j < 4; j++ {
			m.by[i][j] += o.by[i][j]
		}
	}
}

// A shift is how far the second photo is shifted against the first on the
// lattice, in px, with the standard uncertainties that the residuals tell.
type shift struct {
	x, y       float64
	xx, xy, yy float64 // covariance
	ncc        float64
	share      float64 // of the window's px that were seen
	ok         bool
}

// shiftReach is how many blocks the window takes each way: 2.5 cm.
const shiftReach = 2

// warped draws the second photo on the lattice, each px at the depth of the
// nodes about it.
func (v *volume) warped(second *drawer, first *drawer, below []float64) []float32 {
	out := make([]float32, v.w*v.h)
	c := first.camera.PlaceCm()
	n := second.lens()
	h0, h1 := second.camera.Level(0), second.camera.Level(1)
	var slope [3]float32 // of the straight picture's three by depth
	for i := range slope {
		slope[i] = float32(h1[3*i+2] - h0[3*i+2])
	}
	var h [9]float32
	for i := range h {
		h[i] = float32(h0[i])
	}
	half := (float64(v.block) - 1) / 2
	for y := range v.h {
		fr := min(max((float64(y)-half)/float64(v.block), 0), float64(v.rows-1))
		r := min(int(fr), v.rows-2)
		pr := fr - float64(r)
		for x := range v.w {
			fc := min(max((float64(x)-half)/float64(v.block), 0), float64(v.cols-1))
			k := min(int(fc), v.cols-2)
			pc := fc - float64(k)
			at := r*v.cols + k
			d := (1-pr)*((1-pc)*below[at]+pc*below[at+1]) + pr*((1-pc)*below[at+v.cols]+pc*below[at+v.cols+1])
			grow := 1 + d/-c[2]
			gu := float32(c[0] + grow*(v.u0+float64(x)/v.perCm-c[0]))
			gv := float32(c[1] + grow*(v.v0+float64(y)/v.perCm-c[1]))
			fd := float32(d)
			in := 1 / (h[6]*gu + h[7]*gv + h[8] + slope[2]*fd)
			a := (h[0]*gu + h[1]*gv + h[2] + slope[0]*fd) * in
			b := (h[3]*gu + h[4]*gv + h[5] + slope[1]*fd) * in
			s := 1 + n.k1*(a*a+b*b)
			out[y*v.w+x] = second.at(n.fx*a*s+n.cx, n.fy*b*s+n.cy)
		}
	}
	return out
}

// shifts finds how each node's window is shifted in the second photo as it was
// warped: a = gain b(x + shift) + offset by least squares.
func (v *volume) shifts(b []float32) []shift {
	blocks, spare := make([]moments, v.cols*v.rows), make([]moments, v.cols*v.rows)
	a := v.drawn
	for y := 1; y < v.h-1; y++ {
		for x := 1; x < v.w-1; x++ {
			i := y*v.w + x
			if all := a[i] + b[i] + b[i-1] + b[i+1] + b[i-v.w] + b[i+v.w]; all != all {
				continue // one of them is left out
			}
			m := &blocks[y/v.block*v.cols+x/v.block]
			f := [4]float64{float64(b[i+1]-b[i-1]) / 2, float64(b[i+v.w]-b[i-v.w]) / 2, float64(b[i]), 1}
			p := float64(a[i])
			m.n++
			m.aa += p * p
			for j := range 4 {
				m.with[j] += f[j] * p
				for k := j; k < 4; k++ {
					m.by[j][k] += f[j] * f[k]
				}
			}
		}
	}
	for r := range v.rows {
		for c := range v.cols {
			var m moments
			for k := max(0, c-shiftReach); k <= min(v.cols-1, c+shiftReach); k++ {
				m.add(&blocks[r*v.cols+k])
			}
			spare[r*v.cols+c] = m
		}
	}
	out := make([]shift, v.cols*v.rows)
	side := (2*shiftReach + 1) * v.block
	for r := range v.rows {
		for c := range v.cols {
			var m moments
			for k := max(0, r-shiftReach); k <= min(v.rows-1, r+shiftReach); k++ {
				m.add(&spare[k*v.cols+c])
			}
			out[r*v.cols+c] = m.solve(float64(side * side))
		}
	}
	return out
}

// solve gives the shift of a window of so many px.
func (m *moments) solve(px float64) (s shift) {
	s.share = m.n / px
	if s.share < leastShare {
		return s
	}
	n := mat.NewSymDense(4, nil)
	for i := range 4 {
		for j := i; j < 4; j++ {
			n.SetSym(i, j, m.by[i][j])
		}
	}
	var c mat.Cholesky
	if !c.Factorize(n) {
		return s
	}
	var x mat.VecDense
	var inverse mat.SymDense
	if c.SolveVecTo(&x, mat.NewVecDense(4, m.with[:])) != nil || c.InverseTo(&inverse) != nil {
		return s
	}
	gain := x.AtVec(2)
	left := m.aa
	for i := range 4 {
		left -= x.AtVec(i) * m.with[i]
	}
	variance := max(left, 0) / max(1, m.n-4)
	va, vb := m.aa/m.n-m.with[3]*m.with[3]/m.n/m.n, m.by[2][2]/m.n-m.by[2][3]*m.by[2][3]/m.n/m.n
	if !(gain > 0.1 && gain < 10) || !(va > flat) || !(vb > flat) {
		return s
	}
	s.x, s.y = x.AtVec(0)/gain, x.AtVec(1)/gain
	k := variance / gain / gain
	s.xx, s.xy, s.yy = k*inverse.At(0, 0), k*inverse.At(0, 1), k*inverse.At(1, 1)
	s.ncc = (m.with[2]/m.n - m.with[3]*m.by[2][3]/m.n/m.n) / math.Sqrt(va*vb)
	s.ok = true
	return s
}
