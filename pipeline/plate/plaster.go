package plate

import (
	"cmp"
	"fmt"
	"slices"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
)

// underSize is at which level the size of what is drawn under the plaster holds:
// the strings', which is the scale bar's unless a person said a depth of this photo.
func (d *draft) underSize(number string) string {
	if bone := d.DepthToBone(number); bone != nil && bone.Cm != 0 {
		return "Its size holds at the strings, where the scale bar does not"
	}
	return "The scale bar holds on it as drawn"
}

// mostLettered is how many outlines have their name in the margin, which has
// no room for many.
const mostLettered = 4

// underPlaster draws on the plate of a closed jacket where the bone lies under
// it, or says why not.
func (d *draft) underPlaster(p *look.Plate, lay figure.Lay, number string, squares *figure.Squares) {
	for i, b := range d.Covered.Outlines {
		add := func(text string) {
			p.Rows = append(p.Rows, look.Row{Name: "under the plaster", Text: letters.Spell(text)})
		}
		switch {
		case squares == nil:
			add(fmt.Sprintf("%s, outlined in %s, is not drawn: the squares of this photo are not named", b.Outline.Name, b.Photo))
			continue
		case b.Outline.LevelCm == nil && b.DepthToBone == nil:
			add(fmt.Sprintf("%s, outlined in %s, is not drawn: nobody said how far below the strings it lies", b.Outline.Name, b.Photo))
			continue
		}
		depth := 0.0
		if b.DepthToBone != nil {
			depth = b.DepthToBone.Cm
		}
		line, ok := figure.Under(b.Outline, b.Squares, depth, squares, lay)
		if !ok {
			add(fmt.Sprintf("%s, outlined in %s, is not drawn: it leaves the plate", b.Outline.Name, b.Photo))
			continue
		}
		line.Text = letters.Spell(line.Text)
		p.Lines = append(p.Lines, line)
		if i < mostLettered {
			side := squares.Beside(lay)
			at := slices.MaxFunc(line.Through, func(a, b [2]float64) int {
				if side == "left" {
					a, b = b, a
				}
				return cmp.Compare(a[0], b[0])
			})
			if lay.Inside(at[0], at[1]) {
				p.Labels = append(p.Labels, look.Label{XPx: at[0], YPx: at[1], Side: side, Text: line.Text, Plain: true})
			}
		}
		add(line.Text + ", as outlined in " + b.Photo + ", as seen from straight above, by the squares of the set-up: true only if the grid lay on the same pegs both times. " + d.underSize(number) + ". Open by hand, not by the line")
	}
	d.layExposed(p, lay, number, squares)
}
