//go:build cgo

package vision

import (
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
)

// Placards are the jackets' codes in the picture, one for each jacket. They are
// looked for among the dark patches of every reduction, until one is read.
func Placards(p *Picture) (codes []look.Code) {
	full, ok := p.raster()
	if !ok {
		return nil
	}
	camera := p.Camera()
	for _, pass := range p.passes() {
		held := p.blocksOf(pass)
		for _, c := range full.codes(full.patterns(held.quads, camera, float64(held.factor)), camera) {
			code := look.Code{Text: placard.Prefix + c.number}
			if slices.ContainsFunc(codes, func(o look.Code) bool { return o.Text == code.Text }) {
				continue // the other of a placard's two
			}
			for i, at := range c.corners {
				code.Corners[i] = calibrate.Point{XPx: at.x, YPx: at.y}
			}
			codes = append(codes, code)
		}
		if len(codes) > 0 {
			break
		}
	}
	return codes
}
