//go:build cgo

package vision

import (
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
)

// Placards are the jackets' codes in the picture, one for each jacket. They are
// looked for among the dark patches of every reduction, until one is read, and
// in the panels of the cards.
func Placards(p *Picture) (codes []look.Code) {
	full, ok := p.raster()
	if !ok {
		return nil
	}
	camera := p.Camera()
	add := func(c codeSeen) {
		code := look.Code{Text: placard.Prefix + c.number}
		if slices.ContainsFunc(codes, func(o look.Code) bool { return o.Text == code.Text }) {
			return // the other of a placard's two
		}
		for i, at := range c.corners {
			code.Corners[i] = calibrate.Point{XPx: at.x, YPx: at.y}
		}
		codes = append(codes, code)
	}
	for _, pass := range p.passes() {
		held := p.blocksOf(pass)
		for _, c := range full.codes(full.patterns(held.quads, float64(held.factor)), camera) {
			add(c)
		}
		if len(codes) > 0 {
			break
		}
	}
	for _, c := range p.cards() {
		if c.why == "" {
			for _, code := range full.panelCodes(c) {
				add(code)
			}
		}
	}
	return codes
}
