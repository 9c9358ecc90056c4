//go:build cgo

package vision

import (
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/placard"
)

// alwaysPx is the long side up to which a whole picture is looked at for codes
// in any case.
const alwaysPx = 2400

// Placards are the jackets' codes in the picture, one for each jacket. A
// quarter and a half of its size are looked at, as noise spoils a large code in
// the full picture; a large one only where the half has something like a code and
// none was read.
func Placards(p *Picture) (codes []look.Code) {
	if p.reduced == nil {
		p.reduced = p.halves()
		p.looked = make([]*blockPass, len(p.reduced))
	}
	more := true
	for pass := min(2, len(p.reduced)-1); pass >= 0; pass-- {
		m := p.reduced[pass]
		grey, err := m.DataPtrUint8()
		if err != nil || len(grey) != m.Cols()*m.Rows() || pass == 0 && (len(codes) > 0 || !more && max(m.Cols(), m.Rows()) > alwaysPx) {
			return codes
		}
		var seen []placard.Seen
		seen, more = placard.Find(grey, m.Cols(), m.Rows())
		for _, s := range seen {
			code := look.Code{Text: placard.Prefix + s.Number}
			if slices.ContainsFunc(codes, func(c look.Code) bool { return c.Text == code.Text }) {
				continue // the other of a placard's two, or the same in a smaller picture
			}
			for i, c := range s.Corners {
				f := float64(int(1) << pass)
				code.Corners[i] = calibrate.Point{XPx: f*(c[0]+0.5) - 0.5, YPx: f*(c[1]+0.5) - 0.5}
			}
			codes = append(codes, code)
		}
	}
	return codes
}
