package scene

import (
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Print is what a sheet shows.
type Print int

// The prints.
const (
	Plain   Print = iota
	Ruled         // lines across it
	Squared       // lines both ways
	Hatched       // lines both ways, 60 degrees apart
	Keys          // a keyboard
	Planks        // boards side by side along it, with gaps
	Grating       // bars both ways over dark gaps
)

// A Sheet is a flat thing, or the lid of a box, with something on it that is no reference.
type Sheet struct {
	Pose
	WideCm, LongCm, ThickCm float64 // wide along its first direction
	Print                   Print
	EveryCm                 float64 // from line to line, key to key, plank to plank; 0: 1 cm
	Colour                  Colour  // zero: paper
	Ink                     Colour  // of the lines; zero: dark
}

func (s Sheet) panel(seed uint64) *panel {
	base, dark, every := s.Colour, s.Ink, s.EveryCm
	if base == (Colour{}) {
		base = paper
	}
	if dark == (Colour{}) {
		dark = ink
	}
	if every == 0 {
		every = 1
	}
	p := &panel{axes: s.axes(), halfU: s.WideCm / 2, halfV: s.LongCm / 2, thick: s.ThickCm, side: base}
	p.fine = s.Print == Ruled || s.Print == Squared || s.Print == Hatched
	grain := noise.Textures().Fractal.Lay(seed, 14)
	// on tells whether a place lies on the line that a share of each step is wide
	on := func(x, share float64) bool { return math.Abs(x/every-math.Round(x/every)) < share/2 }
	p.paint = func(u, v float64) (Colour, int) {
		u, v = u+p.halfU, v+p.halfV
		inked := false
		switch s.Print {
		case Ruled:
			inked = on(v, 0.07)
		case Squared:
			inked = on(u, 0.08) || on(v, 0.08)
		case Hatched:
			inked = on(0.5*u+0.866*v, 0.12) || on(0.5*u-0.866*v, 0.12)
		case Keys:
			row := math.Floor(v / every)
			inked = !(on(u+every*(0.5+0.27*row), 0.84) && on(v+0.5*every, 0.84))
		case Grating:
			inked = !(on(u, 0.18) || on(v, 0.18))
		case Planks:
			if on(u, 0.035) {
				return dark, 1
			}
			n := int(math.Floor(u / every))
			shade := 0.75 + 0.5*noise.Share(noise.Hash(seed, n, 3), 0) + 0.07*float64(grain.At(float32(4*u), float32(0.12*v)))
			return Colour{base[0] * shade, base[1] * shade, base[2] * shade}, 2 + n&1
		}
		if inked {
			return dark, 1
		}
		return base, 0
	}
	return p
}
