package evidence

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
)

// deny keeps of each grid what in this photo proves that it is of another size,
// whatever becomes of it afterwards: other photos are told. Corners that a person
// put may lie beside the strings and prove nothing of them.
func (p *weighing) deny() {
	for i, s := range p.out {
		if s.Reference.Kind != calibrate.KindGrid || s.Plane == nil || s.By != "" {
			continue
		}
		if w := p.weigh(i); len(w.denied) > 0 {
			across, down := s.Plane.Spans(s.Reference)
			p.out[i].Denied = &calibrate.Denied{By: strings.Join(w.denied, "; "), Cells: [2]int{across, down}}
		}
	}
}

// DeniedByTiles is the proof by a frame's tiles that its grid is of another size; nil: they give none.
func DeniedByTiles(plane *calibrate.Plane, grid calibrate.Reference, tiles []calibrate.Tile) *calibrate.Denied {
	w := weighed{}
	w.tiles(plane, grid, tiles)
	if len(w.denied) == 0 {
		return nil
	}
	across, down := plane.Spans(grid)
	return &calibrate.Denied{By: w.denied[0], Cells: [2]int{across, down}}
}

// shown is what other photos have against a grid: one of the same set-up shows
// another, or that it is of another size. What was proven of a grid with as many
// cells elsewhere speaks against it where nothing is told of its size here.
func shown(s calibrate.Sighting, told Told, w weighed) (against []string) {
	for _, other := range told.Shown {
		if s.Reference.Kind != calibrate.KindGrid || other.Denied != same(other.Reference, s.Reference) {
			continue
		}
		switch {
		case other.SetUp && other.Denied:
			against = append(against, fmt.Sprintf("%s of the same set-up shows that it is of another size: %s", other.Photo, other.By))
		case other.SetUp:
			against = append(against, fmt.Sprintf("%s of the same set-up shows %s: %s", other.Photo, other.Reference, other.By))
		case other.Denied && told.PitchCm == 0 && len(w.by) == 0 && other.alike(s):
			against = append(against, fmt.Sprintf("%s shows a grid of as many squares that is of another size: %s", other.Photo, other.By))
		}
	}
	return against
}

// borrowed is the other photo that confirms a grid's size for this one.
func borrowed(s calibrate.Sighting, told Told) (Shown, bool) {
	i := slices.IndexFunc(told.Shown, func(o Shown) bool {
		return s.Reference.Kind == calibrate.KindGrid && !o.Denied && same(o.Reference, s.Reference) && (o.SetUp || o.alike(s))
	})
	if i < 0 {
		return Shown{}, false
	}
	return told.Shown[i], true
}

// alike tells whether as many cells of a grid are seen as in the other photo,
// either way round.
func (o Shown) alike(s calibrate.Sighting) bool {
	if s.Plane == nil {
		return false
	}
	across, down := s.Plane.Spans(s.Reference)
	return min(across, down) == min(o.Cells[0], o.Cells[1]) && max(across, down) == max(o.Cells[0], o.Cells[1])
}
