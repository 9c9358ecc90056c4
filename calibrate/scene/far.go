package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// Far is what lies beyond the relief: level ground or water to the horizon, hills and the sky.
type Far struct {
	XCm, YCm float64 // the middle of the relief
	ReachCm  float64 // how far from there the relief goes; 0: 250
	HazeCm   float64 // at which distance the air hides two thirds of the ground; 0: 60 000
	Sky, Low Colour  // the sky's colour overhead and above the horizon; zero: blue and pale
	Water    bool    // beyond the relief lies water
	HillsDeg float64 // how high hills stand over the horizon
}

func (f *Far) reach() float64 {
	if f.ReachCm == 0 {
		return 250
	}
	return f.ReachCm
}

// afar is the far world worked out.
type afar struct {
	Far
	site                     *site
	rock                     [3]float32
	sun, sky                 [3]float32 // light on level ground
	mid, fine, patch, plain  noise.Field
	shore                    noise.Field
	ridge                    noise.Field
	minX, minY, maxX, maxY   float32 // where the relief is
	edge                     float32 // how wide its ragged border is
	low, high, hills, mirror [3]float32
}

// afar works out the far world about a relief that is lit.
func (s Scene) afar(t *site, m *lamp) *afar {
	if s.Far == nil {
		return nil
	}
	a := &afar{Far: *s.Far, site: t}
	if a.HazeCm == 0 {
		a.HazeCm = 60_000
	}
	if a.Sky == (Colour{}) {
		a.Sky = Colour{0.16, 0.30, 0.62}
	}
	if a.Low == (Colour{}) {
		a.Low = Colour{0.62, 0.74, 0.86}
	}
	rock := s.Ground.Rock
	if rock == (Colour{}) {
		rock = Colour{0.3, 0.3, 0.3}
	}
	for k := range 3 {
		a.rock[k] = float32(rock[k])
		a.low[k], a.high[k] = float32(a.Low[k]), float32(a.Sky[k])
		a.sun[k], a.sky[k] = m.sun[k]*float32(m.to.z), m.sky[k]
		a.hills[k] = 0.45*a.rock[k]*(a.sun[k]+a.sky[k]) + 0.4*a.low[k]
		a.mirror[k] = 0.55*a.high[k] + 0.25*a.low[k]
	}
	n := noise.Textures().Fractal
	a.mid, a.fine = n.Lay(s.Seed+2, 37), n.Lay(s.Seed+3, 9.3)
	a.patch, a.plain, a.ridge = n.Lay(s.Seed+31, 900), n.Lay(s.Seed+32, 7000), n.Lay(s.Seed+33, 4)
	a.shore = n.Lay(s.Seed+34, 300)
	r := s.reach()
	a.minX, a.minY, a.maxX, a.maxY = float32(r.minX), float32(r.minY), float32(r.maxX), float32(r.maxY)
	a.edge = max(20, 0.2*float32(a.reach()))
	a.match()
	return a
}

// within tells whether the relief reaches a place.
func (a *afar) within(x, y float32) bool {
	return x >= a.minX && x <= a.maxX && y >= a.minY && y <= a.maxY
}

// albedo is the far ground's own colour, averaged over about pixelCm.
func (a *afar) albedo(x, y, pixelCm float32) [3]float32 {
	fade := func(span float32) float32 { return min(max(1.3-10*pixelCm/span, 0), 1) }
	shade := 1 + 0.16*a.patch.At(x, y)*fade(900) + 0.2*a.plain.At(x, y)*fade(7000)
	if w := fade(37); w > 0 {
		shade += 0.07 * w * a.mid.At(x, y)
	}
	if w := fade(9.3); w > 0 {
		shade += 0.05 * w * a.fine.At(x, y) * (1 + 0.8*a.shore.At(x, y))
	}
	shade = max(shade, 0.15)
	return [3]float32{a.rock[0] * shade, a.rock[1] * shade, a.rock[2] * shade}
}

// light is what the far world sends along a ray from the eye, and how deep it is.
func (a *afar) light(e *eye, d vec) ([3]float32, float32) {
	level := math.Hypot(d.x, d.y)
	slope := d.z / max(level, 1e-9)
	if slope > -2e-4 || e.at.z+d.z*4e5/max(level, 1e-9) > 0 {
		return a.above(d, slope), 1e9
	}
	t := -e.at.z / d.z
	x, y := float32(e.at.x+t*d.x), float32(e.at.y+t*d.y)
	away := float32(t * level)
	pixel := float32(t/e.focal) * float32(math.Sqrt(1+1/(slope*slope)))
	var out [3]float32
	if a.Water {
		// ripples turn the water from one part of the sky to another
		w := 0.5 + 0.35*(a.mid.At(0.2*x, 0.2*y)*min(1, 60/max(pixel, 1))+0.5*a.patch.At(x, 2*y))*min(1, 600/max(pixel, 1))
		for k := range out {
			out[k] = a.mirror[k] + (a.low[k]-a.mirror[k])*min(max(w, 0), 1)*0.6
		}
	} else {
		c := a.albedo(x, y, pixel)
		for k := range out {
			out[k] = c[k] * (0.85*a.sun[k] + a.sky[k] + 0.012)
		}
	}
	haze := 1 - float32(math.Exp(-float64(away)/a.HazeCm))
	for k := range out {
		out[k] += (a.low[k] - out[k]) * haze
	}
	return out, float32(t)
}

// above is the sky or a hill in a direction that rises by slope.
func (a *afar) above(d vec, slope float64) (out [3]float32) {
	if a.HillsDeg > 0 {
		bearing := float32(math.Atan2(d.x, d.y))
		top := a.HillsDeg / 57.3 * max(0, 0.55+0.35*float64(a.ridge.At(bearing, 0))+0.05*float64(a.ridge.At(9*bearing, 2)))
		if slope < top {
			return a.hills
		}
	}
	w := float32(math.Exp(-5 * max(slope, 0)))
	for k := range out {
		out[k] = a.high[k] + (a.low[k]-a.high[k])*w
	}
	return out
}

// share is how much of the far ground is seen at a place of the relief, 0 to 1: all of it at the border, which is ragged.
func (a *afar) share(x, y float32) float32 {
	away := min(x-a.minX, a.maxX-x, y-a.minY, a.maxY-y) / a.edge
	if away >= 1 {
		return 0
	}
	sharp := float32(4)
	if a.Water {
		sharp = 40
	}
	away += 0.4 * min(max(0.4*a.shore.At(x, y)+0.15*a.fine.At(x, y), -1), 1)
	return min(max(1-sharp*(away-0.5), 0), 1)
}

// match gives the far ground the mean colour of the relief near its border.
func (a *afar) match() {
	s := a.site
	var near, far [3]float32
	for j := 3; j < s.ny; j += 7 {
		for i := 3; i < s.nx; i += 7 {
			x, y := s.x0+float32(i)*s.cell, s.y0+float32(j)*s.cell
			if away := min(x-a.minX, a.maxX-x, y-a.minY, a.maxY-y); away > 3*a.edge {
				continue
			}
			if s.h[j*s.nx+i] == s.water {
				continue
			}
			c := a.albedo(x, y, s.cell)
			for k := range 3 {
				near[k] += s.rgb[3*(j*s.nx+i)+k]
				far[k] += c[k] * (0.85*a.sun[k] + a.sky[k] + 0.012)
			}
		}
	}
	for k := range 3 {
		if far[k] > 0 {
			a.rock[k] *= near[k] / far[k]
		}
	}
}
