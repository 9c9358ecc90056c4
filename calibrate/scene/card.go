package scene

import (
	"image"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
)

// A Card is our own printed card, or a tile of a frame's corner. A card's arrow
// points up the sheet, to -V, and a tile's name stands below it.
type Card struct {
	Pose                // of the field's middle; with a Face, of the sheet's
	Tile        bool    // a tile
	Number      int     // which card or tile
	MarginCm    float64 // of white round the field
	ThickCm     float64 // of the sheet
	Mud         float64 // 0 to 1: share of the sheet that is muddy
	Face        *image.Gray
	FacePxPerCm float64 // Face is a scan of the whole printed sheet at this resolution; nil: the field is drawn from the pattern
}

func (c Card) family() card.Family {
	if c.Tile {
		return card.Tiles
	}
	return card.Cards
}

// halves are half the field's sides.
func (c Card) halves() (u, v float64) {
	f := c.family()
	return float64(f.Columns) * f.SquareMm / 20, float64(f.Rows) * f.SquareMm / 20
}

func (c Card) panel(seed uint64) *panel {
	hu, hv := c.halves()
	p := &panel{axes: c.axes(), halfU: hu + c.MarginCm, halfV: hv + c.MarginCm, thick: c.ThickCm, side: Colour{0.6, 0.6, 0.58}}
	dirt := dirtOf(c.Mud, seed)
	face := c.field
	if c.Face != nil {
		size := c.Face.Bounds().Size()
		p.halfU, p.halfV, p.fine = float64(size.X)/c.FacePxPerCm/2, float64(size.Y)/c.FacePxPerCm/2, true
		face = func(u, v float64) (Colour, int) {
			x, y := int((u+p.halfU)*c.FacePxPerCm), int((v+p.halfV)*c.FacePxPerCm)
			grey := float64(c.Face.GrayAt(min(x, size.X-1), min(y, size.Y-1)).Y) / 255
			var out Colour
			for k := range out {
				out[k] = ink[k] + (paper[k]-ink[k])*grey
			}
			return out, 0
		}
	}
	p.paint = func(u, v float64) (Colour, int) {
		if dirt(u, v) {
			return mud, 2
		}
		return face(u, v)
	}
	return p
}

// field draws the pattern at (u, v) from its middle.
func (c Card) field(u, v float64) (Colour, int) {
	f := c.family()
	hu, hv := c.halves()
	if math.Abs(u) >= hu || math.Abs(v) >= hv {
		return paper, 0
	}
	x, y := (u+hu)*10/f.SquareMm, (v+hv)*10/f.SquareMm
	at := card.Cell{T: int(x), R: int(y)}
	if at.Dark() {
		return ink, 1
	}
	if f.Dot(c.Number, at) && math.Hypot(x-float64(at.T)-0.5, y-float64(at.R)-0.5) < f.DotMm/f.SquareMm/2 {
		return ink, 3
	}
	return paper, 0
}

// plane is the truth of a card or tile; it has no marks, since its squares'
// sides are lines.
func (c Card) plane(e *eye) Plane {
	hu, hv := c.halves()
	return Plane{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: c.Number}, HalfUCm: hu, HalfVCm: hv, eye: e, axes: c.axes()}
}
