//go:build cgo

package vision

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
)

var cardColumns = float64(card.Cards.Columns)

var cardFinder = finder{
	find:    findCard,
	near:    refineCard,
	pattern: func(calibrate.Reference) pattern { return pattern{card.Cards.Columns, card.Cards.Rows} },
	cellCm:  cardCellCm,
	strays:  0.3, straysMax: 1, // its dark corners tell it from itself one square on
}

// cardCellCm is the side of a card's squares as it was printed; 0 where that is not known.
func cardCellCm(ref calibrate.Reference) float64 {
	at, err := ref.CornersCm()
	if err != nil {
		return 0
	}
	return at[1][0] / cardColumns
}

// refineCard measures the sides of a card's dark squares from where the rough
// plane has them. Its number is not read: the person knows which card it is.
func refineCard(p *Picture, ref calibrate.Reference, rough *calibrate.Plane) look.Found {
	full, ok := p.raster()
	if !ok {
		return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: the picture cannot be read", ref)}
	}
	at, err := ref.CornersCm()
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	camera := p.Camera()
	plane := inUnits(rough, at[1][0]/cardColumns)
	var edges []edgeSeen
	for range cardRounds {
		m, ok := mappingOf(plane)
		if !ok {
			break
		}
		edges = full.cardEdges(card.Cards, m)
		if plane, ok = refined(plane, camera, edges); !ok {
			return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: too few sides of its squares are found between the corners", ref)}
		}
	}
	if all := 8 * len(card.Cards.DarkCells()); float64(len(edges)) < minHalfSides*float64(all) {
		return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: %d of the %d half sides of its squares are found between the corners, need %.0f %%", ref, len(edges), all, 100*minHalfSides)}
	}
	m, ok := mappingOf(plane)
	if share := full.cardShows(m); !ok || share < minAlternating {
		return look.Found{Refused: calibrate.Refuse(retakeCard, "%s: %.0f %% of its squares are dark or light as they should be between the corners, need %.0f %%", ref, 100*share, 100*minAlternating)}
	}
	return look.Found{Marks: edgeMarks(edges, card.SquareMm/10), Counted: fmt.Sprintf("%d half sides of its squares", len(edges))}
}

// minHalfSides is the share of a card's half sides that must be found: a plane
// that lies askew finds half of them beside others' squares.
const minHalfSides = 0.7

// cardShows is the share of a card's dark squares, with each light neighbour,
// that look it; the light ones near their corners, away from their dots.
func (r greyRaster) cardShows(m mapping) float64 {
	good, all := 0, 0
	for _, c := range card.Cards.DarkCells() {
		dark, ok := r.level(m, float64(c.T), float64(c.R))
		if !ok {
			continue
		}
		for _, d := range besides {
			t, row := c.T+d.t, c.R+d.r
			if t < 0 || row < 0 || t >= card.Cards.Columns || row >= card.Cards.Rows {
				continue
			}
			all++
			light, n := 0.0, 0.0
			for _, o := range [4][2]float64{{0.17, 0.17}, {0.83, 0.17}, {0.83, 0.83}, {0.17, 0.83}} {
				at, ok := m(float64(t)+o[0], float64(row)+o[1])
				if g, in := r.at(at); ok && in {
					light, n = light+g, n+1
				}
			}
			if n > 0 && dark < darkRatio*light/n {
				good++
			}
		}
	}
	return float64(good) / float64(max(1, all))
}
