package scene

import (
	"image"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
)

// A Card is our own printed card. Its arrow points up the sheet, to -V.
type Card struct {
	Pose                // of the field's middle; with a Face, of the sheet's
	Number      int     // which card
	MarginCm    float64 // of white round the field
	ThickCm     float64 // of the sheet
	Mud         float64 // 0 to 1: share of the sheet that is muddy
	Face        *image.Gray
	FacePxPerCm float64 // Face is a scan of the whole printed sheet at this resolution; nil: the field is drawn from the pattern
}

const squareCm = card.SquareMm / 10

// halves are half the field's sides.
func (c Card) halves() (u, v float64) {
	return float64(card.Cards.Columns) * squareCm / 2, float64(card.Cards.Rows) * squareCm / 2
}

func (c Card) panel(seed uint64) *panel {
	hu, hv := c.halves()
	p := &panel{frame: c.frame(), halfU: hu + c.MarginCm, halfV: hv + c.MarginCm, thick: c.ThickCm, side: Colour{0.6, 0.6, 0.58}}
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
	hu, hv := c.halves()
	if math.Abs(u) >= hu || math.Abs(v) >= hv {
		return paper, 0
	}
	x, y := (u+hu)/squareCm, (v+hv)/squareCm
	at := card.Cell{T: int(x), R: int(y)}
	if at.Dark() {
		return ink, 1
	}
	if card.Cards.Dot(c.Number, at) && math.Hypot(x-float64(at.T)-0.5, y-float64(at.R)-0.5) < card.DotMm/card.SquareMm/2 {
		return ink, 3
	}
	return paper, 0
}

// plane is the card's truth; it has no marks, since its squares' sides are
// lines.
func (c Card) plane(e *eye) Plane {
	hu, hv := c.halves()
	return Plane{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: c.Number}, HalfUCm: hu, HalfVCm: hv, eye: e, frame: c.frame()}
}
