package scene

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// A site is the ground in view with all that lies on it, as a height and a colour for each cell.
type site struct {
	x0, y0  float32   // the middle of the first cell, cm
	cell    float32   // cm
	nx, ny  int       // y grows with the row
	h       []float32 // height, cm
	rgb     []float32 // three per cell: reflectance, and after lighting what it sends back
	water   float32   // the height of standing water; below the least height: none
	dark    []float32 // height below which a place is in the shadow of the field, cm
	coarse  tops      // what rays step over
	fine    tops
	mipmaps []mipmap // rgb at full, half, quarter ... size
}

// bounds are a part of the ground, cm.
type bounds struct{ minX, minY, maxX, maxY float64 }

// newSite covers what the camera sees of heights lowCm to highCm within a part of the ground, with at most cells cells.
func newSite(e *eye, widthPx, heightPx int, lowCm, highCm, cells float64, within bounds) *site {
	minX, minY, maxX, maxY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range 33 {
		for _, edge := range [4][2]float64{{float64(i) / 32, 0}, {float64(i) / 32, 1}, {0, float64(i) / 32}, {1, float64(i) / 32}} {
			d := e.ray(edge[0]*float64(widthPx)-0.5, edge[1]*float64(heightPx)-0.5)
			if d.z > -0.05 {
				d.z = -0.05 // above the horizon: as far as the field reaches
			}
			for _, z := range [2]float64{lowCm, highCm} {
				t := max(0, (z-e.at.z)/d.z)
				minX, maxX = min(minX, e.at.x+t*d.x), max(maxX, e.at.x+t*d.x)
				minY, maxY = min(minY, e.at.y+t*d.y), max(maxY, e.at.y+t*d.y)
			}
		}
	}
	const margin = 2
	minX, minY, maxX, maxY = max(minX-margin, within.minX), max(minY-margin, within.minY), min(maxX+margin, within.maxX), min(maxY+margin, within.maxY)
	middle := e.at.plus(e.forward.times(-e.at.z / min(e.forward.z, -0.05)))
	if !math.IsInf(within.minX, 0) {
		middle = vec{(within.minX + within.maxX) / 2, (within.minY + within.maxY) / 2, 0}
	}
	perPx := middle.minus(e.at).dot(e.forward) / e.focal
	cell := max(perPx, math.Sqrt((maxX-minX)*(maxY-minY)/cells))
	s := &site{x0: float32(minX), y0: float32(minY), cell: float32(cell), nx: int((maxX-minX)/cell) + 2, ny: int((maxY-minY)/cell) + 2}
	n := s.nx * s.ny
	s.water = float32(math.Inf(-1))
	s.h, s.rgb, s.dark = make([]float32, n), make([]float32, 3*n), make([]float32, n)
	return s
}

// bands calls f for every band of rows, on all cores. The bands are the same on every machine.
func bands(rows, height int, f func(from, to int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for {
				from := int(next.Add(1)-1) * height
				if from >= rows {
					return
				}
				f(from, min(from+height, rows))
			}
		})
	}
	wg.Wait()
}

// index finishes the heights: what the rays step over.
func (s *site) index() {
	s.coarse, s.fine = s.tops(16), s.tops(4)
}

// tops are the greatest heights of square blocks, each with its eight neighbours'.
type tops struct {
	side, nx, ny int
	h            []float32
	all          float32 // the greatest of all
}

func (s *site) tops(side int) tops {
	t := tops{side: side, nx: (s.nx + side - 1) / side, ny: (s.ny + side - 1) / side}
	own := make([]float32, t.nx*t.ny)
	for n := range own {
		own[n] = float32(math.Inf(-1))
	}
	for y := range s.ny {
		row := own[y/side*t.nx:]
		for x, h := range s.h[y*s.nx : (y+1)*s.nx] {
			if n := x / side; h > row[n] {
				row[n] = h
			}
		}
	}
	t.h = make([]float32, len(own))
	t.all = float32(math.Inf(-1))
	for j := range t.ny {
		for i := range t.nx {
			top := float32(math.Inf(-1))
			for y := max(0, j-1); y <= min(t.ny-1, j+1); y++ {
				for x := max(0, i-1); x <= min(t.nx-1, i+1); x++ {
					top = max(top, own[y*t.nx+x])
				}
			}
			t.h[j*t.nx+i] = top
			t.all = max(t.all, top)
		}
	}
	return t
}

// below moves a ray down from height z until it is no higher than the tops about it. gx and gy are where the ray meets
// height 0, and dx and dy how far it goes per cm of height, in cells.
func (t *tops) below(z, gx, gy, dx, dy, aside float32) float32 {
	drop := float32(t.side) / aside
	per := 1 / float32(t.side)
	for {
		i := min(max(int((gx+z*dx)*per), 0), t.nx-1)
		j := min(max(int((gy+z*dy)*per), 0), t.ny-1)
		top := t.h[j*t.nx+i]
		if z <= top {
			return z
		}
		if z-drop > top {
			z -= drop
		} else {
			z = top
		}
	}
}

// cellAt gives the cell below a place and the shares towards the next ones; places outside are moved to the edge.
func (s *site) cellAt(x, y float32) (i int, fx, fy float32) {
	gx, gy := (x-s.x0)/s.cell, (y-s.y0)/s.cell
	gx = min(max(gx, 0), float32(s.nx)-1.001)
	gy = min(max(gy, 0), float32(s.ny)-1.001)
	ix, iy := int(gx), int(gy)
	return iy*s.nx + ix, gx - float32(ix), gy - float32(iy)
}

// between reads a map of the site between its cells.
func (s *site) between(m []float32, x, y float32) float32 {
	i, fx, fy := s.cellAt(x, y)
	a := m[i] + (m[i+1]-m[i])*fx
	b := m[i+s.nx] + (m[i+s.nx+1]-m[i+s.nx])*fx
	return a + (b-a)*fy
}

func (s *site) heightAt(x, y float32) float32 { return s.between(s.h, x, y) }

// hit follows a ray from the eye down to the field. kx and ky are how far it goes aside per cm of height.
func (s *site) hit(at vec, kx, ky float32) (x, y, z float32) {
	ax, ay, az := float32(at.x), float32(at.y), float32(at.z)
	per := 1 / s.cell
	dx, dy := kx*per, ky*per
	gx, gy := (ax-az*kx-s.x0)*per, (ay-az*ky-s.y0)*per
	aside := max(float32(math.Sqrt(float64(dx*dx+dy*dy))), 0.05*per)
	z = s.coarse.below(min(s.coarse.all, az), gx, gy, dx, dy, aside)
	z = s.fine.below(z, gx, gy, dx, dy, aside)
	above, gap := z, float32(0) // the last height over the field, and how far over it
	drop, near := 1/aside, 0.1/aside
	for range 200 {
		h := s.gridHeight(gx+z*dx, gy+z*dy)
		if z <= h {
			if gap > 0 { // the field is met between above and z
				z += (above - z) * (h - z) / (h - z + gap)
			}
			break
		}
		above, gap = z, z-h
		if gap < near {
			z = h
			break
		}
		if gap > drop {
			z -= drop
		} else {
			z = h
		}
	}
	return ax + (z-az)*kx, ay + (z-az)*ky, z
}

// gridHeight is the height at a place given in cells; places outside are moved to the edge.
func (s *site) gridHeight(gx, gy float32) float32 {
	i, j := int(gx), int(gy)
	if i < 0 || j < 0 || i >= s.nx-1 || j >= s.ny-1 {
		i, j = min(max(i, 0), s.nx-1), min(max(j, 0), s.ny-1)
		return s.h[j*s.nx+i]
	}
	fx, fy := gx-float32(i), gy-float32(j)
	p := s.h[j*s.nx+i:]
	q := s.h[(j+1)*s.nx+i:]
	a := p[0] + (p[1]-p[0])*fx
	b := q[0] + (q[1]-q[0])*fx
	return a + (b-a)*fy
}
