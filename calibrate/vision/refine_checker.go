//go:build cgo

package vision

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

var checkerFinder = finder{
	find:    findBoardNotOurs,
	near:    refineChecker,
	pattern: func(r calibrate.Reference) pattern { return pattern{r.SquaresAcross - 2, r.SquaresDown - 2} },
	counts: func(r *calibrate.Reference) (across, down *int, more int) {
		return &r.SquaresAcross, &r.SquaresDown, 2 // squares lie between the outermost inner corners
	},
	cellCm: func(r calibrate.Reference) float64 { return r.SquareCm },
	strays: 0.3, straysMax: 0.5,
}

// refineChecker sharpens every inner corner from where the rough plane has it.
func refineChecker(p *Picture, ref calibrate.Reference, rough *calibrate.Plane) look.Found {
	level, err := rough.At(0)
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	points := make([]calibrate.Point, 0, across*down)
	for row := range down {
		for col := range across {
			at, ok := level.Photo(float64(col+1)*ref.SquareCm, float64(row+1)*ref.SquareCm)
			if !ok {
				return look.Found{Refused: calibrate.Refuse(retakeChecker, "%s: a corner lies behind the camera", ref)}
			}
			points = append(points, at)
		}
	}
	found := checkerMarks(p, ref, points)
	plane, _, err := calibrate.Fit(ref, p.Camera(), found.Marks, calibrate.FitOptions{})
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	if need := minHandCorners * float64(plane.Marks); float64(plane.Used) < need {
		return look.Found{Refused: calibrate.Refuse(retakeChecker, "%s: %d of its %d inner corners agree, need %.0f", ref, plane.Used, plane.Marks, math.Ceil(need))}
	}
	if share := crossings(p, ref, inUnits(plane, ref.SquareCm)); share < minCrossings {
		return look.Found{Refused: calibrate.Refuse(retakeChecker, "%s: dark and light squares meet at %.0f %% of the places of its inner corners, need %.0f %%", ref, 100*share, 100*minCrossings)}
	}
	return found
}

// minHandCorners is the share of a board's inner corners that must agree: more
// than of one that was found, since the corners may have been put elsewhere.
const minHandCorners = 0.85

// minCrossings is the share of a board's inner corners at which two dark and
// two light squares must meet in the picture.
const minCrossings = 0.85

// crossings is that share; plane is in squares.
func crossings(p *Picture, ref calibrate.Reference, plane *calibrate.Plane) float64 {
	full, ok := p.raster()
	m, mapped := mappingOf(plane)
	if !ok || !mapped {
		return 0
	}
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	var seen [2]int // by which of the two colours comes first
	for row := 1; row <= down; row++ {
		for col := 1; col <= across; col++ {
			leastOne, mostOne := math.Inf(1), math.Inf(-1) // along one diagonal
			leastOther, mostOther := math.Inf(1), math.Inf(-1)
			for _, d := range [4][2]float64{{-1, -1}, {1, 1}, {1, -1}, {-1, 1}} {
				at, ok := m(float64(col)+0.3*d[0], float64(row)+0.3*d[1])
				g, in := full.at(at)
				switch {
				case !ok || !in:
				case d[0]*d[1] > 0:
					leastOne, mostOne = min(leastOne, g), max(mostOne, g)
				default:
					leastOther, mostOther = min(leastOther, g), max(mostOther, g)
				}
			}
			switch odd := (row + col) % 2; {
			case leastOne-mostOther >= minStep: // lighter in every corner of it
				seen[odd]++
			case leastOther-mostOne >= minStep:
				seen[1-odd]++
			}
		}
	}
	return float64(max(seen[0], seen[1])) / float64(across*down)
}
