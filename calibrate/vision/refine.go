//go:build cgo

package vision

import (
	"errors"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// How far what is found may lie off the corners that a person put, in squares
// or cells: farther off it is something else, such as the next string. Beside
// a string lies its shadow.
const (
	strayCells  = 0.3
	strayString = 0.12
)

// Refine measures the marks of a reference whose four outer corners a person
// has put on the photo, each coordinate to pickPx (one standard deviation), see
// [calibrate.FitCorners]. Refused says why nothing was found there that agrees
// with them: the corners may stand all the same.
func Refine(p *Picture, ref calibrate.Reference, corners [4]calibrate.Point, pickPx float64) look.Found {
	camera := p.Camera()
	rough, err := calibrate.FitCorners(ref, camera, corners, pickPx)
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	var found look.Found
	switch ref.Kind {
	case calibrate.KindChecker:
		found = refineChecker(p, ref, rough)
	case calibrate.KindGrid:
		found = refineGrid(p, ref, rough)
	case calibrate.KindCard:
		found = refineCard(p, ref, rough)
	}
	if found.Refused != nil {
		return found
	}
	fitted, err := calibrate.FitReference(ref.Uncounted(), camera, found.Marks)
	if err != nil {
		return look.Found{Refused: asRefusal(err)}
	}
	if why := stray(ref, fitted, corners, pickPx); why != nil {
		return look.Found{Refused: why}
	}
	return found
}

func asRefusal(err error) *calibrate.Refusal {
	var refusal *calibrate.Refusal
	if errors.As(err, &refusal) {
		return refusal
	}
	return calibrate.Refuse("", "%v", err)
}

// stray refuses a plane on which the corners do not lie where they were put.
func stray(ref calibrate.Reference, fitted *calibrate.Plane, corners [4]calibrate.Point, pickPx float64) *calibrate.Refusal {
	level, err := fitted.At(0)
	if err != nil {
		return asRefusal(err)
	}
	at, err := ref.CornersCm()
	if err != nil {
		return asRefusal(err)
	}
	part := strayCells
	if ref.Kind == calibrate.KindGrid {
		part = strayString
	}
	cell := map[calibrate.Kind]float64{calibrate.KindChecker: ref.SquareCm, calibrate.KindGrid: ref.PitchCm, calibrate.KindCard: at[1][0] / cardColumns}[ref.Kind]
	for i, c := range at {
		here, ok := level.Photo(c[0], c[1])
		next, okNext := level.Photo(c[0]+cell, c[1])
		if !ok || !okNext {
			return calibrate.Refuse("", "%s: what is found there lies behind the camera", ref.Kind)
		}
		off := math.Hypot(here.XPx-corners[i].XPx, here.YPx-corners[i].YPx)
		if limit := max(part*math.Hypot(next.XPx-here.XPx, next.YPx-here.YPx), 4*pickPx); !(off <= limit) {
			return calibrate.Refuse("put the corners nearer, or accept them as they are",
				"%s: what is found there lies %.0f px off corner %d, limit %.0f", ref.Kind, off, i+1, limit)
		}
	}
	return nil
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
	if share := crossings(p, ref, inUnits(plane, ref.SquareCm)); share < minCrossings {
		return look.Found{Refused: calibrate.Refuse(retakeChecker, "%s: dark and light squares meet at %.0f %% of the places of its inner corners, need %.0f %%", ref, 100*share, 100*minCrossings)}
	}
	return found
}

// minCrossings is the share of a board's inner corners at which two dark and
// two light squares must meet in the picture.
const minCrossings = 0.85

// crossings is that share; plane is in squares.
func crossings(p *Picture, ref calibrate.Reference, plane *calibrate.Plane) float64 {
	w, h := p.Size()
	grey, err := p.Grey.DataPtrUint8()
	m, ok := mappingOf(plane)
	if err != nil || len(grey) != w*h || !ok {
		return 0
	}
	full := greyRaster{w, h, grey}
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

// inUnits is a plane whose coordinates count units of so many cm.
func inUnits(p *calibrate.Plane, unitCm float64) *calibrate.Plane {
	q := *p
	for row := range 3 {
		q.Homography[3*row] *= unitCm
		q.Homography[3*row+1] *= unitCm
	}
	return &q
}
