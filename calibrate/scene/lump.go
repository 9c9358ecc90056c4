package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Lump is a closed plaster jacket, or a spoil heap, as a dome.
type Lump struct {
	XCm, YCm          float64 // its middle
	LengthCm, WidthCm float64
	HighCm            float64
	TurnDeg           float64 // of its length, clockwise from +x
	Colour            Colour  // zero: plaster over burlap
}

func (s *site) heap(l Lump, seed uint64) {
	colour, woven := l.Colour, false
	if colour == (Colour{}) {
		colour, woven = Colour{0.74, 0.72, 0.67}, true
	}
	sin, cos := math.Sincos(l.TurnDeg * math.Pi / 180)
	a, b, high := float32(l.LengthCm/2), float32(l.WidthCm/2), float32(l.HighCm)
	t := noise.Textures().Fractal
	dents, fine, strips := t.Lay(seed+1, 1.3*l.LengthCm), t.Lay(seed+2, 11), t.Lay(seed+3, 0.8*l.LengthCm)
	s.heighten(l.XCm, l.YCm, 0.6*(l.LengthCm+l.WidthCm), func(dx, dy, _ float32) (float32, [3]float32, bool) {
		u, v := (dx*float32(cos)-dy*float32(sin))/a, (dx*float32(sin)+dy*float32(cos))/b
		n := dents.At(dx, dy)
		q := (u*u + v*v) * (1 + 0.13*n)
		if q >= 1 {
			return 0, [3]float32{}, false
		}
		f := fine.At(dx, dy)
		h := high*float32(math.Sqrt(float64(1-q*q)))*(1+0.05*n) + 0.1*f
		shade := 1 + 0.025*f
		if woven {
			// strips of burlap laid across each other: a step where one ends, and the weave
			lap := strips.At(0.25*dx, dy) - float32(math.Floor(float64(strips.At(0.25*dx, dy))))
			h += 0.25 * lap
			weave := sine(9*dx+1.2*f) * sine(9*dy-1.2*f)
			h += 0.035 * weave
			shade *= 0.94 + 0.06*lap + 0.03*weave
		}
		return h, [3]float32{float32(colour[0]) * shade, float32(colour[1]) * shade, float32(colour[2]) * shade}, true
	})
}

func sine(x float32) float32 { return float32(math.Sin(float64(x))) }
