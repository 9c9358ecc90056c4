//go:build cgo

package vision

import (
	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// Refine measures the marks of a reference whose four outer corners a person
// has put on the photo, in order round it.
func Refine(p *Picture, ref calibrate.Reference, corners [4]calibrate.Point) look.Found {
	if ref.Kind != calibrate.KindChecker {
		return look.Found{Refused: calibrate.Refuse("name another reference", "%s: this version cannot refine a %s", ref, ref.Kind)}
	}
	across, down := ref.SquaresAcross-1, ref.SquaresDown-1
	w, h := float64(across-1), float64(down-1)
	var marks []calibrate.Mark
	for i, c := range [4][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}} {
		marks = append(marks, calibrate.Mark{At: corners[i], UCm: c[0], VCm: c[1]})
	}
	rough, _, err := calibrate.Fit(ref, p.Camera(), marks, calibrate.FitOptions{FloorPx: 2})
	if err != nil {
		return look.Found{Refused: calibrate.Refuse("put the four corners in order round the board", "%s: the four corners do not make a plane", ref)}
	}
	level, err := rough.At(0)
	if err != nil {
		return look.Found{Refused: calibrate.Refuse("put the four corners in order round the board", "%s: %v", ref, err)}
	}
	points := make([]calibrate.Point, 0, across*down)
	for row := range down {
		for col := range across {
			at, ok := level.Photo(float64(col), float64(row))
			if !ok {
				return look.Found{Refused: calibrate.Refuse("put the four corners in order round the board", "%s: a corner lies behind the camera", ref)}
			}
			points = append(points, at)
		}
	}
	return checkerMarks(p, ref, points)
}
