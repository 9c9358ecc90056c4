package scene

import (
	"math"

	"fieldjacket/calibrate"
)

// A Bar is a printed scale bar of alternating blocks in one or two rows, on a white sheet.
type Bar struct {
	Pose
	LengthCm, BlockCm float64
	HighCm            float64 // of one block
	Rows              int     // 1 or 2; the blocks of the second are the other way round
	LightFirst        bool    // the first block of the first row is light
	OutlineCm         float64 // thickness of a dark line round the blocks; 0: none
	MarginCm          float64 // of white round the blocks
	ThickCm           float64 // of the sheet
	Mud               float64 // 0 to 1: share of the sheet that is muddy
	CoveredCm         float64 // how much of its length lies under mud, from the first block on
	Glare             float64 // 0 to 1: strength of a bright patch, as of a wet or laminated sheet
}

func (b Bar) halves() (u, v float64) { return b.LengthCm / 2, float64(b.Rows) * b.HighCm / 2 }

func (b Bar) panel(seed uint64) *panel {
	hu, hv := b.halves()
	dirt, gleam := dirtOf(b.Mud, seed), glareOf(b.Glare, hu, hv, seed)
	cover := tiles().fractal.lay(seed+43, 9)
	return &panel{
		frame: b.frame(), halfU: hu + b.MarginCm, halfV: hv + b.MarginCm, thick: b.ThickCm, side: Colour{0.6, 0.6, 0.58},
		paint: func(u, v float64) (Colour, int) {
			if dirt(u, v) || b.CoveredCm > 0 && u < b.CoveredCm-hu+0.12*float64(cover.at(float32(u), float32(v))) {
				return mud, 2
			}
			if math.Abs(u) > hu || math.Abs(v) > hv {
				if math.Abs(u) < hu+b.OutlineCm && math.Abs(v) < hv+b.OutlineCm {
					return gleam(ink, u, v), 1
				}
				return gleam(paper, u, v), 0
			}
			odd := (int((u+hu)/b.BlockCm)+int((v+hv)/b.HighCm))&1 != 0
			if odd != b.LightFirst {
				return gleam(paper, u, v), 0
			}
			return gleam(ink, u, v), 1
		},
	}
}

// glareOf lightens a sheet about a place of its own.
func glareOf(strength, halfU, halfV float64, seed uint64) func(c Colour, u, v float64) Colour {
	if strength <= 0 {
		return func(c Colour, u, v float64) Colour { return c }
	}
	h := mix(seed + 42)
	u0, v0 := halfU*(1.4*share(h, 0)-0.7), halfV*(2*share(h, 1)-1)
	return func(c Colour, u, v float64) Colour {
		du, dv := (u-u0)/(0.35*halfU), (v-v0)/(0.25*halfU)
		shine := strength * 0.9 * math.Exp(-du*du-dv*dv)
		return Colour{c[0] + shine, c[1] + shine, c[2] + shine}
	}
}

// plane is the bar's truth: its marks are the ends of the edges between blocks and of its own ends, row by row.
func (b Bar) plane(e *eye) Plane {
	hu, hv := b.halves()
	p := Plane{Reference: calibrate.Reference{Kind: calibrate.KindBar, LengthCm: b.LengthCm, BlockCm: b.BlockCm}, HalfUCm: hu, HalfVCm: hv, eye: e, frame: b.frame()}
	for j := range b.Rows + 1 {
		for i := range int(math.Round(b.LengthCm/b.BlockCm)) + 1 {
			p.mark(float64(i)*b.BlockCm-hu, float64(j)*b.HighCm-hv)
		}
	}
	return p
}

// A Tape is a measuring tape or a ruler with a line every millimetre: something with a scale on it that is no bar of blocks.
type Tape struct {
	Pose
	LengthCm, WideCm float64
	Colour           Colour // zero: yellow
}

func (t Tape) panel() *panel {
	colour := t.Colour
	if colour == (Colour{}) {
		colour = Colour{0.75, 0.55, 0.08}
	}
	return &panel{
		frame: t.frame(), halfU: t.LengthCm / 2, halfV: t.WideCm / 2, thick: 0.05, side: colour, fine: true,
		paint: func(u, v float64) (Colour, int) {
			at := u + t.LengthCm/2
			mm := math.Round(at * 10)
			long := 0.25
			switch int(mm) % 10 {
			case 0:
				long = 0.7
			case 5:
				long = 0.4
			}
			if math.Abs(at*10-mm) < 0.13 && v > t.WideCm*(0.5-long) {
				return ink, 0
			}
			return colour, 0
		},
	}
}
