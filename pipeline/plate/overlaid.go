package plate

import (
	"cmp"
	"fmt"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
)

// earlierPicture is struck over a jacket's plate with the exposed bone laid
// over it.
const earlierPicture = "OVERLAY: BONE AS EXPOSED, BEFORE JACKETING"

// layExposed lays the picture of the exposed bone over the plate of the closed
// jacket, or says why not. It goes by the squares, so that it can neither be
// turned nor mirrored where they are right.
func (d *draft) layExposed(p *look.Plate, lay figure.Lay, number string, squares *figure.Squares) {
	e := d.Covered.Picture(number)
	if e == nil {
		return
	}
	add := func(text string) {
		p.Rows = append(p.Rows, look.Row{Name: "under the plaster", Text: letters.Spell(text)})
	}
	switch {
	case squares == nil:
		add(e.Photo + " is not laid over this picture: the squares of this photo are not named")
		return
	case e.DepthToBone == nil:
		add(e.Photo + " is not laid over this picture: nobody said how far below the strings the bone lies")
		return
	}
	over, rim, err := figure.Over(e.Squares, e.DepthToBone.Cm, squares, lay)
	if err != nil {
		add(fmt.Sprintf("%s is not laid over this picture: %v", e.Photo, err))
		return
	}
	p.Under, p.Stamp = &over, earlierPicture
	p.Lines = append(p.Lines, look.Line{Through: rim, Text: "earlier picture"})
	add(fmt.Sprintf("overlay of the bone as exposed, %s, %s, %s, within what that photo measured (dashed), by the squares of the set-up: true only if the grid lay on the same pegs both times. %s. Open by hand, not by the picture",
		cmp.Or(e.Day, "day "+notRecorded), e.Photo, e.DepthToBone.Below("strings"), d.underSize(number)))
}
