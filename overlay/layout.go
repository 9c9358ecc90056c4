package overlay

import (
	"image"
	"math"

	"fieldjacket/calibrate/look"
)

// Sizes of print, in millimetres. A plate is made to be printed 150 to 180 mm wide: what is laid out here for 178 mm still
// has capitals of 1.6 mm at 150.
const (
	widestMm   = 178 // within the margins of A4 and Letter
	tallestMm  = 215 // the same, less what a sheet prints above and below
	leastMm    = 150 // a narrower picture gets white beside it, to keep the words' lines long
	edgeMm     = 4   // around everything
	gapMm      = 2.5
	leastPxMm  = 6   // pixels per millimetre at least, about 150 dpi: for a very small picture
	mostEnlarg = 1.6 // a plate that is printed small has its words enlarged by this at most
)

// A Layout is the canvas of a plate and the place of the picture in it.
type Layout struct {
	Size    image.Point     // px
	Picture image.Rectangle // as large as the plate's picture; everything else is margin

	// PxPerMm is how many canvas pixels a millimetre of print has: the plate's PrintDPI, unless that would make the
	// canvas larger than a sheet or the words too small to read.
	PxPerMm float64
}

// Arrange says how large a plate's canvas is and where its picture goes. It looks at the words, which take room, but finds
// no fault with them; [Draw] does.
func Arrange(p look.Plate) Layout {
	l, _ := arrange(p)
	return l.Layout
}

// arranged is a plate ready to be drawn: blocks of words and shapes and where they stand.
type arranged struct {
	Layout
	head, foot  *block // from the canvas's top, and from below the picture's label band
	bands       bands
	headY       float64 // mm
	footY       float64
	canvasWidth float64 // mm
}

// arrange lays the plate out twice: first in the narrowest canvas to learn how tall the words are, then in the one that
// the picture needs, where the words take the same room or less. The error says what cannot be drawn; the layout stands
// nonetheless.
func arrange(p look.Plate) (arranged, error) {
	a := arranged{bands: bandsOf(p.Labels)}
	head, foot := headOf(p, leastMm-2*edgeMm), footOf(p, leastMm-2*edgeMm, 0)
	sides := 2*edgeMm + a.bands.left + a.bands.right
	heights := 2*edgeMm + head.height + foot.height + a.bands.top + a.bands.bottom + 2*gapMm
	w, h := float64(max(p.Picture.WidthPx, 0)), float64(max(p.Picture.HeightPx, 0))

	px := max(w/(widestMm-sides), h/max(tallestMm-heights, tallestMm/2), leastPxMm)
	if print := p.Picture.PrintDPI / 25.4; print > px {
		px = min(print, mostEnlarg*px)
	}
	least := float64(leastMm)
	if p.Picture.TrueSize && p.Picture.PrintDPI > 0 {
		px, least = p.Picture.PrintDPI/25.4, widestMm // the words are as wide as every sheet, to leave it to the picture in height
	}
	a.PxPerMm = px
	a.canvasWidth = max(least, w/px+sides)
	a.head, a.foot = headOf(p, a.canvasWidth-2*edgeMm), footOf(p, a.canvasWidth-2*edgeMm, barPx(p.Bar)/px)

	a.headY = edgeMm
	pictureY := edgeMm + a.head.height + gapMm + a.bands.top
	pictureX := edgeMm + a.bands.left + (a.canvasWidth-sides-w/px)/2
	at := image.Pt(int(math.Round(pictureX*px)), int(math.Ceil(pictureY*px)))
	a.Picture = image.Rectangle{Min: at, Max: at.Add(image.Pt(int(w), int(h)))}
	a.footY = float64(a.Picture.Max.Y)/px + a.bands.bottom + gapMm
	a.Size = image.Pt(int(math.Ceil(a.canvasWidth*px)), int(math.Ceil((a.footY+a.foot.height+edgeMm)*px)))
	a.Size.X = max(a.Size.X, a.Picture.Max.X+int(math.Ceil((a.bands.right+edgeMm)*px)))

	for _, err := range []error{a.bands.err, a.head.err, a.foot.err} {
		if err != nil {
			return a, err
		}
	}
	return a, nil
}
