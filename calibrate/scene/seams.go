package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Seam is a set of straight parallel joints or veins through the rock, as strings lie over it.
type Seam struct {
	BearingDeg float64 // that they run to, clockwise from +y
	EveryCm    float64
	Uneven     float64 // 0 to 1: how unevenly they lie
	WideCm     float64
	DeepCm     float64 // how far they gape
	Colour     Colour  // zero: dark with dirt; else the vein's
}

// seamAt gives how much of a seam is at a place, 0 to 1.
func (m Seam) at(x, y float32, cos, sin float32, seed uint64) float32 {
	across := (x*cos - y*sin) / float32(m.EveryCm)
	n := noise.Floor(across)
	most := float32(0)
	for k := n - 1; k <= n+1; k++ {
		h := noise.Hash(seed, k, 17)
		middle := float32(k) + 0.5 + float32(m.Uneven*(noise.Share(h, 0)-0.5))
		wide := float32(m.WideCm*(0.6+0.8*noise.Share(h, 1))) / float32(m.EveryCm)
		away := across - middle
		if away < 0 {
			away = -away
		}
		if away < wide {
			most = max(most, min(1, 2*(1-away/wide)))
		}
	}
	return most
}

// cut draws the seams into the ground.
func (s *site) cut(seams []Seam, seed uint64) {
	for i, m := range seams {
		seed := noise.Mix(seed + uint64(i))
		sin64, cos64 := math.Sincos(m.BearingDeg * math.Pi / 180)
		sin, cos := float32(sin64), float32(cos64)
		wander := noise.Textures().Fractal.Lay(seed, 60)
		bands(s.ny, 32, func(from, to int) {
			for j := from; j < to; j++ {
				y := s.y0 + float32(j)*s.cell
				for i := range s.nx {
					x := s.x0 + float32(i)*s.cell
					w := 0.12 * wander.At(x, y)
					part := m.at(x+w, y+w, cos, sin, seed)
					if part == 0 {
						continue
					}
					n := j*s.nx + i
					s.h[n] -= float32(m.DeepCm) * part
					for c := range 3 {
						r := &s.rgb[3*n+c]
						if m.Colour == (Colour{}) {
							*r *= 1 - 0.5*part
						} else {
							*r += (float32(m.Colour[c]) - *r) * part
						}
					}
				}
			}
		})
	}
}
