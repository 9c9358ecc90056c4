package scene

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene/noise"
)

// A Checker is a printed board of alternating squares on a white sheet.
type Checker struct {
	Pose
	Across, Down int // squares
	SquareCm     float64
	MarginCm     float64 // of white round the squares
	CutCm        float64 // how much the outermost squares are cut narrow on every side
	ThickCm      float64 // of the sheet
	Mud          float64 // 0 to 1: share of the sheet that is muddy
}

// ink and paper are the reflectances of print.
var (
	ink   = Colour{0.035, 0.035, 0.04}
	paper = Colour{0.80, 0.79, 0.77}
	mud   = Colour{0.19, 0.14, 0.10}
)

func (c Checker) halves() (u, v float64) {
	return float64(c.Across)*c.SquareCm/2 - c.CutCm, float64(c.Down)*c.SquareCm/2 - c.CutCm
}

func (c Checker) panel(seed uint64) *panel {
	hu, hv := c.halves()
	pu, pv := float64(c.Across)*c.SquareCm/2, float64(c.Down)*c.SquareCm/2
	dirt := dirtOf(c.Mud, seed)
	return &panel{
		axes: c.axes(), halfU: hu + c.MarginCm, halfV: hv + c.MarginCm, thick: c.ThickCm, side: Colour{0.6, 0.6, 0.58},
		paint: func(u, v float64) (Colour, int) {
			if dirt(u, v) {
				return mud, 2
			}
			if math.Abs(u) > hu || math.Abs(v) > hv {
				return paper, 0
			}
			i, j := int((u+pu)/c.SquareCm), int((v+pv)/c.SquareCm)
			if (i+j)&1 == 0 {
				return ink, 1
			}
			return paper, 0
		},
	}
}

// dirtOf tells where a sheet is muddy, for a share of it.
func dirtOf(share float64, seed uint64) func(u, v float64) bool {
	if share <= 0 {
		return func(u, v float64) bool { return false }
	}
	f := noise.Textures().Fractal.Lay(seed+41, 26)
	limit := float32(-math.Sqrt2 * math.Erfinv(2*min(share, 0.99)-1)) // the tile's values are close to normal
	return func(u, v float64) bool { return f.At(float32(u), float32(v)) > limit }
}

// reference is the board as the program is told of it.
func (c Checker) reference() calibrate.Reference {
	return calibrate.Reference{Kind: calibrate.KindChecker, SquaresAcross: c.Across, SquaresDown: c.Down, SquareCm: c.SquareCm}
}

// plane is the board's truth: its marks are the inner corners, row by row.
func (c Checker) plane(e *eye) Plane {
	hu, hv := c.halves()
	p := Plane{Reference: c.reference(), HalfUCm: hu, HalfVCm: hv, eye: e, axes: c.axes()}
	for j := 1; j < c.Down; j++ {
		for i := 1; i < c.Across; i++ {
			p.mark((float64(i)-float64(c.Across)/2)*c.SquareCm, (float64(j)-float64(c.Down)/2)*c.SquareCm)
		}
	}
	return p
}

// mark adds the mark at (u, v), unless it lies behind the camera.
func (p *Plane) mark(u, v float64) {
	if at, ok := p.Photo(u, v, 0); ok {
		p.Marks = append(p.Marks, calibrate.Mark{At: at, UCm: u, VCm: v})
	}
}
