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
	OutlineCm         float64 // thickness of a dark line round the blocks; 0: none
	MarginCm          float64 // of white round the blocks
	ThickCm           float64 // of the sheet
	Mud               float64 // 0 to 1: share of the sheet that is muddy
}

func (b Bar) halves() (u, v float64) { return b.LengthCm / 2, float64(b.Rows) * b.HighCm / 2 }

func (b Bar) panel(seed uint64) *panel {
	hu, hv := b.halves()
	dirt := dirtOf(b.Mud, seed)
	return &panel{
		axes: b.axes(), halfU: hu + b.MarginCm, halfV: hv + b.MarginCm, thick: b.ThickCm, side: Colour{0.6, 0.6, 0.58},
		paint: func(u, v float64) (Colour, int) {
			if dirt(u, v) {
				return mud, 2
			}
			if math.Abs(u) > hu || math.Abs(v) > hv {
				if math.Abs(u) < hu+b.OutlineCm && math.Abs(v) < hv+b.OutlineCm {
					return ink, 1
				}
				return paper, 0
			}
			if (int((u+hu)/b.BlockCm)+int((v+hv)/b.HighCm))&1 != 0 {
				return paper, 0
			}
			return ink, 1
		},
	}
}

// plane is the bar's truth: its marks are the ends of the edges between blocks and of its own ends, row by row.
func (b Bar) plane(e *eye) Plane {
	hu, hv := b.halves()
	p := Plane{Reference: calibrate.Reference{Kind: calibrate.KindBar, LengthCm: b.LengthCm, BlockCm: b.BlockCm}, HalfUCm: hu, HalfVCm: hv, eye: e, axes: b.axes()}
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
		axes: t.axes(), halfU: t.LengthCm / 2, halfV: t.WideCm / 2, thick: 0.05, side: colour, fine: true,
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
