package scene

import "math"

// light turns the site's reflectances into what it sends back, and makes the mipmaps for places seen from afar.
func (s *site) light(m *lamp, dust float64) {
	near := s.blurred(max(1, int(0.35/s.cell)))
	wide := s.blurred(max(2, int(2.2/s.cell)))
	perNear, perWide := 0.9/max(0.35, s.cell), 0.5/max(2.2, 2*s.cell)
	to := [3]float32{float32(m.to.x), float32(m.to.y), float32(m.to.z)}
	inv := 1 / (2 * s.cell)
	pale := [3]float32{0.46, 0.41, 0.33}
	bands(s.ny, 32, func(from, to1 int) {
		for j := from; j < to1; j++ {
			up, down := max(j-1, 0)*s.nx, min(j+1, s.ny-1)*s.nx
			y := float64(s.y0 + float32(j)*s.cell)
			for i := range s.nx {
				n := j*s.nx + i
				h := s.h[n]
				sx := (s.h[n+min(1, s.nx-1-i)] - s.h[n-min(1, i)]) * inv
				sy := (s.h[down+i] - s.h[up+i]) * inv
				nz := 1 / float32(math.Sqrt(float64(1+sx*sx+sy*sy)))
				facing := max(0, (to[2]-sx*to[0]-sy*to[1])*nz)
				lit := 0.5 - (s.dark[n]-h)/(0.35*s.cell+0.02)
				lit = min(max(lit, 0), 1)
				if lit > 0 && facing > 0 && len(m.casters) > 0 {
					lit *= m.shade(vec{float64(s.x0 + float32(i)*s.cell), y, float64(h)})
				}
				hollow := (near[n]-h)*perNear + (wide[n]-h)*perWide
				open := min(max(1-hollow, 0.25), 1.15) * (0.55 + 0.45*nz)
				powder := float32(dust) * min(max(0.25+1.2*hollow, 0), 0.8) * nz * nz * nz
				for c := range 3 {
					r := s.rgb[3*n+c]
					r += (pale[c] - r) * powder
					s.rgb[3*n+c] = r * (m.sun[c]*lit*facing + m.sky[c]*open + 0.06*m.sun[c]*(1-open)*facing + 0.012)
				}
			}
		}
	})
	s.shine(m)
	s.mipmaps = []mipmap{{s.rgb, s.nx, s.ny}}
	for l := s.mipmaps[0]; min(l.nx, l.ny) > 32 && len(s.mipmaps) < 6; {
		l = l.half()
		s.mipmaps = append(s.mipmaps, l)
	}
}

// blurred is the heights averaged over squares of 2 r + 1 cells, by running sums.
func (s *site) blurred(r int) []float32 {
	across, out := make([]float32, len(s.h)), make([]float32, len(s.h))
	bands(s.ny, 32, func(from, to int) {
		for j := from; j < to; j++ {
			running(s.h[j*s.nx:(j+1)*s.nx], across[j*s.nx:], s.nx, 1, r)
		}
	})
	bands(s.nx, 64, func(from, to int) {
		sums := make([]float32, to-from)
		at := func(j int) []float32 { j = min(max(j, 0), s.ny-1); return across[j*s.nx+from : j*s.nx+to] }
		for j := -r; j <= r; j++ {
			for i, v := range at(j) {
				sums[i] += v
			}
		}
		per := 1 / float32(2*r+1)
		for j := range s.ny {
			row := out[j*s.nx+from : j*s.nx+to]
			add, drop := at(j+r+1), at(j-r)
			for i := range row {
				row[i] = sums[i] * per
				sums[i] += add[i] - drop[i]
			}
		}
	})
	return out
}

// running writes the running means of n values; the ends are held.
func running(in, out []float32, n, stride, r int) {
	at := func(i int) float32 { return in[min(max(i, 0), n-1)*stride] }
	var sum float32
	for i := -r; i <= r; i++ {
		sum += at(i)
	}
	per := 1 / float32(2*r+1)
	for i := range n {
		out[i*stride] = sum * per
		sum += at(i+r+1) - at(i-r)
	}
}

// A mipmap is the lit ground at one of its sizes.
type mipmap struct {
	rgb    []float32
	nx, ny int
}

// half averages four cells to one.
func (m mipmap) half() mipmap {
	out := mipmap{nx: m.nx / 2, ny: m.ny / 2}
	out.rgb = make([]float32, 3*out.nx*out.ny)
	for j := range out.ny {
		a, b := m.rgb[3*2*j*m.nx:], m.rgb[3*(2*j+1)*m.nx:]
		for i := range out.nx {
			for c := range 3 {
				out.rgb[3*(j*out.nx+i)+c] = (a[6*i+c] + a[6*i+3+c] + b[6*i+c] + b[6*i+3+c]) / 4
			}
		}
	}
	return out
}

// seen is the light that a place of the ground sends back, averaged over about pixelCm.
func (s *site) seen(x, y, pixelCm float32) (r, g, b float32) {
	gx, gy := (x-s.x0)/s.cell, (y-s.y0)/s.cell
	n := 0
	for w := pixelCm; w > 1.4*s.cell && n < len(s.mipmaps)-1; w /= 2 {
		n++
		gx, gy = (gx-0.5)/2, (gy-0.5)/2
	}
	l := &s.mipmaps[n]
	gx = min(max(gx, 0), float32(l.nx)-1.001)
	gy = min(max(gy, 0), float32(l.ny)-1.001)
	i, j := int(gx), int(gy)
	fx, fy := gx-float32(i), gy-float32(j)
	p := l.rgb[3*(j*l.nx+i) : 3*(j*l.nx+i)+6]
	q := l.rgb[3*((j+1)*l.nx+i) : 3*((j+1)*l.nx+i)+6]
	w00, w10, w01, w11 := (1-fx)*(1-fy), fx*(1-fy), (1-fx)*fy, fx*fy
	return p[0]*w00 + p[3]*w10 + q[0]*w01 + q[3]*w11,
		p[1]*w00 + p[4]*w10 + q[1]*w01 + q[4]*w11,
		p[2]*w00 + p[5]*w10 + q[2]*w01 + q[5]*w11
}
