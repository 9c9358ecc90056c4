package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Handle is a round matte stick: the handle of a tool.
type Handle struct {
	XCm, YCm float64 // its middle
	TurnDeg  float64 // clockwise from +x
	LengthCm float64
	ThickCm  float64
	Colour   Colour  // zero: ash wood
	ZCm      float64 // of its axis, where it lies across something; 0: it lies on the ground
}

func (h Handle) paint() Colour {
	if h.Colour == (Colour{}) {
		return Colour{0.45, 0.30, 0.16}
	}
	return h.Colour
}

// cord is a handle that lies on a frame and not on the ground.
func (h Handle) cord() *cord {
	sin, cos := math.Sincos(h.TurnDeg * math.Pi / 180)
	s := &cord{radius: h.ThickCm / 2, colour: h.paint()}
	for i := range 21 {
		along := h.LengthCm * (float64(i)/20 - 0.5)
		s.at = append(s.at, vec{h.XCm + along*cos, h.YCm - along*sin, h.ZCm})
	}
	return s
}

func (s *site) drop(h Handle, seed uint64) {
	colour := h.paint()
	base := s.heightAt(float32(h.XCm), float32(h.YCm))
	sin, cos := math.Sincos(h.TurnDeg * math.Pi / 180)
	half, r := float32(h.LengthCm/2), float32(h.ThickCm/2)
	grain := noise.Textures().Fractal.Lay(seed, 9)
	s.heighten(h.XCm, h.YCm, h.LengthCm/2+h.ThickCm, func(dx, dy, _ float32) (float32, [3]float32, bool) {
		u, v := dx*float32(cos)-dy*float32(sin), dx*float32(sin)+dy*float32(cos)
		if abs(u) > half {
			return 0, [3]float32{}, false
		}
		w := r * min(1, 0.8+(half-abs(u))/(4*r)) // rounded ends
		if abs(v) >= w {
			return 0, [3]float32{}, false
		}
		shade := 1 + 0.06*grain.At(0.15*u, 2*v)
		return base + r + float32(math.Sqrt(float64(w*w-v*v))), [3]float32{float32(colour[0]) * shade, float32(colour[1]) * shade, float32(colour[2]) * shade}, true
	})
}
