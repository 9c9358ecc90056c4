package stereo

import (
	"cmp"
	"slices"

	"fieldjacket/calibrate/relief"
)

// A Reading is one way how a photo's strings may be the first photo's, and how
// much of the ground bears it out, 0 to 1.
type Reading struct {
	Turn  relief.Turn
	Score float64
}

// closest is how many readings are scored again, finely.
const closest = 5

// Readings scores every way how the second photo's strings may be those of the
// first: four turns, each with the middles of both boxes laid on each other
// and shifted by up to three cells. The best come first.
func Readings(photos [2]relief.Photo, views [2]*View, pitchCm float64) []Reading {
	lo, hi := photos[0].BoxCm(pitchCm)
	cameraA, ok := photos[0].Camera(relief.Turn{})
	if !ok {
		return nil
	}
	at := func(view *View, c relief.Camera, perCm float64) *drawer {
		return &drawer{view.layerFor(pxPerCm(&c, lo, hi), perCm), c}
	}
	l := newLattice(lo, hi, roughPerCm, 1)
	first := at(views[0], cameraA, roughPerCm)
	drawn := first.draw(&l, &cameraA, 0)
	var all []Reading
	for _, t := range relief.Readings(photos[0], photos[1], pitchCm) {
		if c, ok := photos[1].Camera(t); ok {
			all = append(all, Reading{t, rough(&l, drawn, first, at(views[1], c, roughPerCm))})
		}
	}
	order := func(a, b Reading) int { return cmp.Compare(b.Score, a.Score) }
	slices.SortStableFunc(all, order)
	all = all[:min(closest, len(all))]
	for i := range all {
		c, _ := photos[1].Camera(all[i].Turn)
		all[i].Score = score(at(views[0], cameraA, scorePerCm), at(views[1], c, scorePerCm), lo, hi)
	}
	slices.SortStableFunc(all, order)
	return all
}
