package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// fleck strews pale or glittering flecks over the bare ground, as on mussel beds and broken shell.
func (s *site) fleck(strength float64, seed uint64) {
	if strength <= 0 {
		return
	}
	small, wide := noise.Textures().Grain.Lay(seed+1, 40), noise.Textures().Fractal.Lay(seed+2, 120)
	bands(s.ny, 32, func(from, to int) {
		for j := from; j < to; j++ {
			y := s.y0 + float32(j)*s.cell
			for i := range s.nx {
				x := s.x0 + float32(i)*s.cell
				n := small.At(x, y)
				over := n - 0.8 + 0.3*wide.At(x, y)
				k := j*s.nx + i
				s.h[k] += 0.25 * float32(strength) * n
				if over <= 0 {
					continue
				}
				add := float32(strength) * min(0.35*over, 0.6)
				s.rgb[3*k], s.rgb[3*k+1], s.rgb[3*k+2] = s.rgb[3*k]+add, s.rgb[3*k+1]+0.98*add, s.rgb[3*k+2]+add
			}
		}
	})
}

// shell is a low cone of pale and dark rings with a ragged rim: a limpet, an urchin, a cap of lichen.
func (s *site) shell(x, y, size float64, h uint64) {
	base := s.heightAt(float32(x), float32(y))
	g := noise.Mix(h)
	tall := float32(size * (0.3 + 0.3*noise.Share(h, 2)))
	pale := 0.25 + 0.4*noise.Share(h, 3)
	ragged := noise.Textures().Fractal.Lay(h, 9)
	s.heighten(x, y, 1.2*size, func(dx, dy, _ float32) (float32, [3]float32, bool) {
		r := float32(math.Hypot(float64(dx), float64(dy))) / float32(size) * (1 + 0.07*ragged.At(dx, dy))
		if r >= 1 {
			return 0, [3]float32{}, false
		}
		ring := 0.8 + 0.2*sine(r*float32(9+8*noise.Share(g, 0))+float32(6*noise.Share(g, 1))+0.8*ragged.At(2*dx, 2*dy))
		c := float32(pale) * ring
		return base + tall*(1-r*r), [3]float32{c, 0.92 * c, c * float32(0.7+0.2*noise.Share(g, 2))}, true
	})
}

// flood fills what lies below a level with water.
func (s *site) flood(overCm float64) {
	level := float32(overCm)
	s.water = level
	for n, h := range s.h {
		s.h[n] = max(h, level)
	}
}

// shine is the sky in the water, once the site is lit.
func (s *site) shine(m *lamp) {
	ripple := noise.Textures().Fractal.Lay(1, 40)
	for n, h := range s.h {
		if h == s.water {
			w := 1 + 0.06*ripple.At(float32(n%s.nx)*s.cell, 3*float32(n/s.nx)*s.cell)
			for k := range 3 {
				s.rgb[3*n+k] = 0.9 * w * m.sky[k]
			}
		}
	}
}

// A Track is the print of a tyre in soft ground: bars askew on either side of its middle.
type Track struct {
	XCm, YCm   float64 // a place on its middle
	BearingDeg float64 // that it runs to, clockwise from +y
	WideCm     float64
	EveryCm    float64 // from bar to bar
	DeepCm     float64
}

func (s *site) roll(t Track) {
	sin64, cos64 := math.Sincos(t.BearingDeg * math.Pi / 180)
	sin, cos := float32(sin64), float32(cos64)
	bands(s.ny, 32, func(from, to int) {
		for j := from; j < to; j++ {
			dy := s.y0 + float32(j)*s.cell - float32(t.YCm)
			for i := range s.nx {
				dx := s.x0 + float32(i)*s.cell - float32(t.XCm)
				aside, along := dx*cos-dy*sin, dx*sin+dy*cos
				q := aside / float32(t.WideCm/2)
				if q < -1 || q > 1 {
					continue
				}
				bar := sine(2 * math.Pi * (along - 0.7*abs(aside)) / float32(t.EveryCm))
				part := min(1, 6*(1-abs(q)))
				n := j*s.nx + i
				s.h[n] -= float32(t.DeepCm) * part * (0.5 + 0.5*min(max(3*bar, -1), 1))
				for c := range 3 {
					s.rgb[3*n+c] *= 1 - 0.12*part
				}
			}
		}
	})
}
