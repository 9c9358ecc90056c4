package scene

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// A site is the ground in view with all that lies on it, as a height and a colour for each cell.
type site struct {
	x0, y0 float32   // the middle of the first cell, cm
	cell   float32   // cm
	nx, ny int       // y grows with the row
	h      []float32 // height, cm
	rgb    []float32 // three per cell: reflectance, and after lighting what it sends back
	dark   []float32 // height below which a place is in the shadow of the field, cm
	tops   []float32 // per block of blockSide cells and its neighbours, the greatest height
	bx, by int       // blocks
	top    float32   // the greatest height of all
	levels []level   // rgb at full, half, quarter ... size
}

const blockSide = 16

// newSite covers what the camera sees of heights lowCm to highCm, with at most cells cells.
func newSite(e *eye, widthPx, heightPx int, lowCm, highCm, cells float64) *site {
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
	minX, minY, maxX, maxY = minX-margin, minY-margin, maxX+margin, maxY+margin
	middle := e.at.plus(e.forward.times(-e.at.z / min(e.forward.z, -0.05)))
	perPx := middle.minus(e.at).dot(e.forward) / e.focal
	cell := max(perPx, math.Sqrt((maxX-minX)*(maxY-minY)/cells))
	s := &site{x0: float32(minX), y0: float32(minY), cell: float32(cell), nx: int((maxX-minX)/cell) + 2, ny: int((maxY-minY)/cell) + 2}
	n := s.nx * s.ny
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

// index finishes the heights: block tops for the rays.
func (s *site) index() {
	s.bx, s.by = (s.nx+blockSide-1)/blockSide, (s.ny+blockSide-1)/blockSide
	own := make([]float32, s.bx*s.by)
	for j := range s.by {
		for i := range s.bx {
			top := float32(math.Inf(-1))
			for y := j * blockSide; y < min((j+1)*blockSide, s.ny); y++ {
				for _, h := range s.h[y*s.nx+i*blockSide : y*s.nx+min((i+1)*blockSide, s.nx)] {
					top = max(top, h)
				}
			}
			own[j*s.bx+i] = top
		}
	}
	s.tops = make([]float32, len(own))
	s.top = float32(math.Inf(-1))
	for j := range s.by {
		for i := range s.bx {
			top := float32(math.Inf(-1))
			for y := max(0, j-1); y <= min(s.by-1, j+1); y++ {
				for x := max(0, i-1); x <= min(s.bx-1, i+1); x++ {
					top = max(top, own[y*s.bx+x])
				}
			}
			s.tops[j*s.bx+i] = top
			s.top = max(s.top, top)
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
	aside := max(float32(math.Sqrt(float64(kx*kx+ky*ky))), 0.01)
	z = min(s.top, az)
	drop := blockSide * s.cell / aside
	for {
		x, y = ax+(z-az)*kx, ay+(z-az)*ky
		i := min(max(int((x-s.x0)/s.cell), 0), s.nx-1) / blockSide
		j := min(max(int((y-s.y0)/s.cell), 0), s.ny-1) / blockSide
		top := s.tops[j*s.bx+i]
		if z <= top {
			break
		}
		z = max(top, z-drop)
	}
	above := z
	drop = s.cell / aside
	for range 4 * blockSide {
		x, y = ax+(z-az)*kx, ay+(z-az)*ky
		h := s.heightAt(x, y)
		if z <= h {
			break
		}
		if z-h < 0.002 {
			return x, y, z
		}
		above = z
		z = max(h, z-drop)
	}
	for range 4 { // the field is met between above and z
		m := (above + z) / 2
		x, y = ax+(m-az)*kx, ay+(m-az)*ky
		if m <= s.heightAt(x, y) {
			z = m
		} else {
			above = m
		}
	}
	return x, y, z
}
