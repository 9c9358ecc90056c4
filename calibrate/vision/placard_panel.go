//go:build cgo

package vision

import (
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/placard"
)

// A code in a card's panel lies where the card's squares say, to a fraction of
// a module where the card is flat, to two of them where it is bent.
const (
	panelReach = 2.0 // modules
	panelStep  = 0.25
)

// panelCodes reads the codes in the panel of a card that was found, by the
// plane of its squares: where mud or shade lies on a code's own large squares
// nothing else tells where its modules are.
func (r greyRaster) panelCodes(c cardSeen) (seen []codeSeen) {
	for _, corner := range card.CodesAtMm {
		if one, ok := r.panelCode(c.plane, corner); ok {
			seen = append(seen, one)
		}
	}
	return seen
}

// panelCode reads one code whose white begins at a corner, in mm from the
// card's. How many modules it has is tried.
func (r greyRaster) panelCode(plane mapping, corner [2]float64) (seen codeSeen, ok bool) {
	for modules := leastModules; modules <= mostModules; modules += 4 {
		module := card.CodeMm / float64(modules+2*placard.QuietModules)
		mm := func(k int, modules float64) float64 {
			return (corner[k] + (placard.QuietModules+modules)*module) / card.SquareMm
		}
		m, ok := r.onPatterns(func(t, row float64) (place, bool) { return plane(mm(0, t), mm(1, row)) }, float64(modules))
		if !ok {
			continue
		}
		if seen, ok = r.codeAt(m, modules); ok {
			return seen, true
		}
	}
	return seen, false
}

// onPatterns shifts a mapping so that a code's three large squares lie on it
// best; ok is false where none of them is there.
func (r greyRaster) onPatterns(m mapping, modules float64) (shifted mapping, ok bool) {
	best, bestT, bestRow := 0.0, 0.0, 0.0
	for dt := -panelReach; dt <= panelReach; dt += panelStep {
		for dr := -panelReach; dr <= panelReach; dr += panelStep {
			sum, most := 0.0, 0.0
			for _, at := range [3][2]float64{{3.5, 3.5}, {modules - 3.5, 3.5}, {3.5, modules - 3.5}} {
				score := r.ringScore(m, at[0]+dt, at[1]+dr, largeSquare)
				sum, most = sum+score, max(most, score)
			}
			if most >= minRingScore && sum > best {
				best, bestT, bestRow = sum, dt, dr
			}
		}
	}
	return func(t, row float64) (place, bool) { return m(t+bestT, row+bestRow) }, best > 0
}
