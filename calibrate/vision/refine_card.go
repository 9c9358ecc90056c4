//go:build cgo

package vision

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
)

var cardColumns = float64(card.Cards.Columns)

// refineCard measures the sides of a card's dark squares from where the rough
// plane has them. Its number is not read: the person knows which card it is.
func refineCard(p *Picture, ref calibrate.Reference, rough *calibrate.Plane) look.Found {
	w, h := p.Size()
	grey, err := p.Grey.DataPtrUint8()
	if err != nil || len(grey) != w*h {
		return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: the picture cannot be read", ref)}
	}
	at, err := ref.CornersCm()
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	full, camera := greyRaster{w, h, grey}, p.Camera()
	plane := inUnits(rough, at[1][0]/cardColumns)
	var edges []edgeSeen
	for range cardRounds {
		m, ok := mappingOf(plane)
		if !ok {
			break
		}
		edges = full.cardEdges(m)
		if plane, ok = refined(plane, camera, edges); !ok {
			return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: too few sides of its squares are found between the corners", ref)}
		}
	}
	if all := 8 * len(card.Cards.DarkCells()); len(edges) < all/2 {
		return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: %d of the %d half sides of its squares are found between the corners, need half", ref, len(edges), all)}
	}
	return look.Found{Marks: edgeMarks(edges, card.SquareMm/10), Counted: fmt.Sprintf("%d half sides of its squares", len(edges))}
}
