package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// heighten raises the ground within a radius of a place to what shape says. shape gets the offset from the place in cm and
// the ground's own height, and gives a height and a colour; false leaves the ground as it is.
func (s *site) heighten(xCm, yCm, radiusCm float64, shape func(dx, dy, ground float32) (h float32, colour [3]float32, ok bool)) {
	i0 := max(0, int((xCm-radiusCm-float64(s.x0))/float64(s.cell)))
	i1 := min(s.nx-1, int((xCm+radiusCm-float64(s.x0))/float64(s.cell))+1)
	j0 := max(0, int((yCm-radiusCm-float64(s.y0))/float64(s.cell)))
	j1 := min(s.ny-1, int((yCm+radiusCm-float64(s.y0))/float64(s.cell))+1)
	for j := j0; j <= j1; j++ {
		dy := s.y0 + float32(j)*s.cell - float32(yCm)
		for i := i0; i <= i1; i++ {
			dx := s.x0 + float32(i)*s.cell - float32(xCm)
			n := j*s.nx + i
			if h, c, ok := shape(dx, dy, s.h[n]); ok && h > s.h[n] {
				s.h[n] = h
				s.rgb[3*n], s.rgb[3*n+1], s.rgb[3*n+2] = c[0], c[1], c[2]
			}
		}
	}
}

// scatter strews pebbles and chips over the whole site. Which lie where depends on the seed and the place alone, so that two
// photos of one site show the same stones.
func (s *site) scatter(g Ground, seed uint64) {
	const patch = 20.0 // cm; stones are drawn patch by patch
	count := func(perM2 float64) float64 { return perM2 * patch * patch / 1e4 }
	for j := int(math.Floor(float64(s.y0)/patch)) - 1; float64(j)*patch < float64(s.y0)+float64(s.ny)*float64(s.cell); j++ {
		for i := int(math.Floor(float64(s.x0)/patch)) - 1; float64(i)*patch < float64(s.x0)+float64(s.nx)*float64(s.cell); i++ {
			h := noise.Hash(seed, i, j)
			pebbles := int(count(g.PebblesPerM2) + noise.Share(h, 0))
			chips := int(count(g.ChipsPerM2) + noise.Share(h, 1))
			for n := range int(count(g.ShellsPerM2) + noise.Share(h, 2)) {
				h := noise.Hash(h, n, 9)
				s.shell((float64(i)+noise.Share(h, 0))*patch, (float64(j)+noise.Share(h, 1))*patch, 1+3*noise.Share(noise.Mix(h), 3), noise.Mix(h+1))
			}
			for n := range pebbles + chips {
				h := noise.Hash(h, n, 7)
				x, y := (float64(i)+noise.Share(h, 0))*patch, (float64(j)+noise.Share(h, 1))*patch
				t := noise.Share(h, 2)
				size := 0.12 + 0.16*t + 1.7*math.Pow(t, 22) // mostly crumbs
				if size < 1.2*float64(s.cell) {
					continue
				}
				if n < pebbles {
					s.pebble(x, y, size, g.Rock, noise.Mix(h))
				} else {
					s.chip(x, y, size, g.Rock, noise.Mix(h))
				}
			}
		}
	}
}

// tint is the rock's colour, made lighter or darker and turned a little by a hash.
func tint(c Colour, h uint64, spread float64) [3]float32 {
	light := 1 + spread*(2*noise.Share(h, 0)-1)
	warm := 0.5 * spread * (2*noise.Share(h, 1) - 1)
	return [3]float32{float32(c[0] * light * (1 + warm)), float32(c[1] * light), float32(c[2] * light * (1 - warm))}
}

// pebble is half an ellipsoid, sunk a little.
func (s *site) pebble(x, y, size float64, rock Colour, h uint64) {
	base := s.heightAt(float32(x), float32(y))
	sin, cos := math.Sincos(math.Pi * noise.Share(h, 2))
	a, b := float32(size), float32(size*(0.55+0.4*noise.Share(h, 3)))
	tall := b * 0.62
	c := tint(rock, noise.Mix(h), 0.42)
	s.heighten(x, y, size, func(dx, dy, _ float32) (float32, [3]float32, bool) {
		u, v := (dx*float32(cos)+dy*float32(sin))/a, (dy*float32(cos)-dx*float32(sin))/b
		q := u*u + v*v
		if q >= 1 {
			return 0, c, false
		}
		return base - 0.3*tall + tall*float32(math.Sqrt(float64(1-q))), c, true
	})
}

// chip is a broken stone: the space below a tilted top and inside a ring of steep sides.
func (s *site) chip(x, y, size float64, rock Colour, h uint64) {
	base := s.heightAt(float32(x), float32(y))
	const sides = 6
	var planes [sides + 1][3]float32
	turn := 2 * math.Pi * noise.Share(h, 0)
	for k := range sides {
		g := noise.Hash(h, k, 1)
		sin, cos := math.Sincos(turn + 2*math.Pi*(float64(k)+0.7*noise.Share(g, 0))/sides)
		steep := 0.7 + 2.2*noise.Share(g, 1)
		out := size * (0.45 + 0.5*noise.Share(g, 2))
		planes[k] = [3]float32{float32(-cos * steep), float32(-sin * steep), float32(out * steep)}
	}
	g := noise.Mix(h)
	planes[sides] = [3]float32{float32(0.5*noise.Share(g, 0) - 0.25), float32(0.5*noise.Share(g, 1) - 0.25), float32(size * (0.25 + 0.35*noise.Share(g, 2)))}
	c := tint(rock, noise.Mix(g), 0.3)
	s.heighten(x, y, size, func(dx, dy, _ float32) (float32, [3]float32, bool) {
		z := planes[0][0]*dx + planes[0][1]*dy + planes[0][2]
		for _, p := range planes[1:] {
			z = min(z, p[0]*dx+p[1]*dy+p[2])
		}
		return base - 0.05*float32(size) + z, c, z > 0
	})
}
