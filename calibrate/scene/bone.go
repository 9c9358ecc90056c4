package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A BoneKind is the shape of a bone.
type BoneKind int

// The shapes.
const (
	LongBone BoneKind = iota // a shaft with a head at end A and two condyles at end B
	Rib                      // curved and thin, thickest at end A
	Vertebra                 // a centrum with spine and processes
	Tooth                    // a curved cone
)

// A Bone lies on or in the ground.
type Bone struct {
	Kind       BoneKind
	XCm, YCm   float64 // its middle
	ZCm        float64 // of its axis over the ground's mean level; below zero it is half buried
	TurnDeg    float64 // from A to B, clockwise from +x as seen from above
	LengthCm   float64
	ThickCm    float64 // across the shaft or the centrum
	Bend       float64 // how far the middle bows out, in lengths; a rib about 0.2
	Colour     Colour  // zero: brown
	Weathering float64 // 0 to 1: cracks and matrix that still sticks to it
}

// blob is half an ellipsoid in the bone's own coordinates: s from A to B, d across it, both from the middle.
type blob struct{ s, d, z, a, b, c float32 }

// body is what a bone is made of.
type body struct {
	half, bend float32
	radius     func(s float32) float32 // of the shaft at s, 0: no shaft there
	blobs      []blob
}

func (b Bone) body() body {
	r, half := float32(b.ThickCm/2), float32(b.LengthCm/2)
	out := body{half: half, bend: float32(b.Bend * b.LengthCm)}
	switch b.Kind {
	case LongBone:
		end := 0.2 * half
		out.radius = func(s float32) float32 {
			away := half - abs(s)
			if away < 0 {
				return 0
			}
			return r * (0.9 + 0.28*(s/half)*(s/half)) * min(1, 0.5+away/end)
		}
		out.blobs = []blob{
			{-half + 0.85*r, 0.45 * r, 0.1 * r, 1.05 * r, 1.25 * r, 1.2 * r}, {-half + 1.9*r, -0.65 * r, 0, 1.3 * r, 0.75 * r, 0.95 * r},
			{half - 0.8*r, 0.75 * r, 0.15 * r, 1.0 * r, 0.85 * r, 1.2 * r}, {half - 0.9*r, -0.75 * r, 0.1 * r, 1.1 * r, 0.8 * r, 1.15 * r},
		}
	case Rib:
		out.radius = func(s float32) float32 {
			t := (s + half) / (2 * half)
			if t < 0 || t > 1 {
				return 0
			}
			return r * (1.1 - 0.6*t) * min(1, 6*t+0.4, 9*(1-t)+0.2)
		}
		out.blobs = []blob{{-half + r, 0, 0, 1.3 * r, 1.2 * r, 1.1 * r}, {-half + 3.2*r, 0.7 * r, 0, 1.1 * r, 0.8 * r, 0.9 * r}}
	case Vertebra:
		out.blobs = []blob{
			{0, 0, 0, 0.92 * half, r, r}, {-0.75 * half, 0, 0, 0.3 * half, 1.25 * r, 1.2 * r}, {0.75 * half, 0, 0, 0.3 * half, 1.25 * r, 1.2 * r},
			{0.1 * half, 1.9 * r, -0.1 * r, 0.42 * half, 1.5 * r, 0.55 * r}, {0.25 * half, 2.9 * r, -0.2 * r, 0.5 * half, 0.8 * r, 0.45 * r},
			{-0.3 * half, -1.2 * r, -0.2 * r, 0.3 * half, 0.9 * r, 0.5 * r}, {0.9 * half, 1.35 * r, 0.1 * r, 0.5 * half, 0.4 * r, 0.6 * r},
		}
	case Tooth:
		out.radius = func(s float32) float32 {
			t := (s + half) / (2 * half)
			if t < 0 || t > 1 {
				return 0
			}
			return r * float32(math.Sqrt(float64(1-t))) * min(1, 8*t+0.3)
		}
	}
	return out
}

func abs(x float32) float32 { return max(x, -x) }

// over gives the height of the bone's surface over its axis at (s, d); false beside the bone.
func (b body) over(s, d float32) (z float32, ok bool) {
	t := s / b.half
	d -= b.bend * (1 - t*t)
	if b.radius != nil {
		if r := b.radius(s); r > abs(d) {
			z, ok = float32(math.Sqrt(float64(r*r-d*d))), true
		}
	}
	for _, e := range b.blobs {
		p, q := (s-e.s)/e.a, (d-e.d)/e.b
		if n := p*p + q*q; n < 1 {
			if top := e.z + e.c*float32(math.Sqrt(float64(1-n))); !ok || top > z {
				z, ok = top, true
			}
		}
	}
	return z, ok
}

// lay puts the bone on the ground.
func (s *site) lay(b Bone, rock Colour, seed uint64) {
	colour := b.Colour
	if colour == (Colour{}) {
		colour = Colour{0.30, 0.20, 0.13}
	}
	shape := b.body()
	sin, cos := math.Sincos(b.TurnDeg * math.Pi / 180)
	streak, crack := noise.Textures().Fractal.Lay(seed+1, 14), noise.Textures().Fractal.Lay(seed+2, 22)
	stuck := noise.Textures().Fractal.Lay(seed+3, 17)
	deep := float32(0.045 * b.ThickCm)
	weather := float32(b.Weathering)
	reach := 0.5*b.LengthCm + 2.2*b.ThickCm + math.Abs(b.Bend)*b.LengthCm
	s.heighten(b.XCm, b.YCm, reach, func(dx, dy, ground float32) (float32, [3]float32, bool) {
		along, across := dx*float32(cos)-dy*float32(sin), -dx*float32(sin)-dy*float32(cos)
		z, ok := shape.over(along, across)
		if !ok {
			return 0, [3]float32{}, false
		}
		grain := streak.At(0.25*along, 1.6*across)
		h := float32(b.ZCm) + z + 0.012*float32(b.ThickCm)*grain
		if stuck.At(dx, dy) > 2.6-1.9*weather && h-ground < 0.9*float32(b.ThickCm) {
			return h - 0.3*deep, [3]float32{float32(rock[0]), float32(rock[1]), float32(rock[2])}, true
		}
		shade := 1 + 0.13*grain + 0.05*crack.At(2*along, 3*across)
		if c := abs(crack.At(0.9*along, 0.35*across)); c < 0.05*weather {
			shade *= 0.55
			h -= deep * (1 - c/(0.05*weather+1e-6))
		}
		return h, [3]float32{float32(colour[0]) * shade, float32(colour[1]) * shade, float32(colour[2]) * shade}, true
	})
}
