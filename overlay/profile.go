package overlay

import (
	"fmt"
	"math"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

const (
	profileMostMm = 70  // of height
	profileLevels = 60  // drawn at the most
	profileMarkMm = 8.5 // for the levels' numbers, on both sides
)

func profileFault(p look.Profile) error {
	rows := (p.MostCm - p.LeastCm) / p.EachCm
	if !(p.LengthCm > 0) || !(p.FromCm >= 0) || !(p.ToCm > p.FromCm) || p.ToCm > p.LengthCm*(1+1e-6) || !finite(p.LengthCm, p.LeastCm) || !(p.EachCm > 0) || !(rows >= 1) || rows > profileLevels {
		return fmt.Errorf("profile of %g cm from %g to %g cm each %g: want a length that holds both ends, and 1 to %d levels", p.LengthCm, p.LeastCm, p.MostCm, p.EachCm, profileLevels)
	}
	for _, piece := range p.Pieces {
		for _, at := range piece {
			if !finite(at[0], at[1]) || at[0] < -1e-6*p.LengthCm || at[0] > p.LengthCm*(1+1e-6) || at[1] < p.LeastCm || at[1] > p.MostCm {
				return fmt.Errorf("profile of %g cm has the point (%g, %g): want it within", p.LengthCm, at[0], at[1])
			}
		}
	}
	return nil
}

// profile sets a section through the ground from y down, its levels numbered on both sides, and returns the y below it.
// One centimetre is as long across as down.
func (b *block) profile(p look.Profile, y float64) float64 {
	if err := profileFault(p); err != nil {
		b.fail(err)
		return y
	}
	y = b.text(p.Title, 0, y, b.width, labelMm, letters.Bold) + 1.5
	perCm := min((b.width-2*profileMarkMm)/p.LengthCm, profileMostMm/(p.MostCm-p.LeastCm))
	wide, tall := p.LengthCm*perCm, (p.MostCm-p.LeastCm)*perCm
	left := (b.width - wide) / 2
	b.ends(p, left, y, perCm)
	y += lineEm*labelMm + 1
	levels := int(math.Round((p.MostCm - p.LeastCm) / p.EachCm))
	last := math.Inf(-1)
	for i := range levels + 1 {
		below := p.LeastCm + float64(i)*p.EachCm
		at := y + (below-p.LeastCm)*perCm
		if at-last < 0.8*smallMm && i < levels {
			continue // no room for its number
		}
		last = at
		b.line(fmt.Sprintf("%g", below), left-profileMarkMm+1, at+0.35*smallMm, smallMm, letters.Regular)
		b.line(fmt.Sprintf("%g", below), left+wide+1.5, at+0.35*smallMm, smallMm, letters.Regular)
	}
	top := y
	b.shape(func(d *pen) {
		for i := range levels + 1 {
			at := top + float64(i)*p.EachCm*perCm
			d.rule(left, at, left+wide, at, 0.1)
		}
		d.rule(left, top, left, top+tall, 0.2)
		d.rule(left+wide, top, left+wide, top+tall, 0.2)
		for _, end := range []float64{p.FromCm, p.ToCm} {
			d.rule(left+end*perCm, top-1.2, left+end*perCm, top+tall, 0.3)
		}
		if p.BarCm != nil && *p.BarCm >= p.LeastCm && *p.BarCm <= p.MostCm {
			at := top + (*p.BarCm-p.LeastCm)*perCm
			for x := 0.0; x < wide; x += 4 {
				d.rule(left+x, at, left+min(x+2.5, wide), at, 0.3)
			}
		}
		for _, piece := range p.Pieces {
			through := make([][2]float64, len(piece))
			for i, q := range piece {
				through[i] = [2]float64{d.x(left + q[0]*perCm), d.y(top + (q[1]-p.LeastCm)*perCm)}
			}
			if len(through) > 1 {
				stroke(d.dc, through, false, black, max(1, 0.6*d.perMm))
			}
		}
	})
	b.height = max(b.height, y+tall+1)
	return y + tall + 1
}

// ends names a profile's two ends, each above its place where there is room.
func (b *block) ends(p look.Profile, left, y, perCm float64) {
	foot := y + baseEm*labelMm
	from, to := widthMm(p.From, labelMm, letters.Regular), widthMm(p.To, labelMm, letters.Regular)
	x := max(0, left+p.FromCm*perCm-1)
	b.line(p.From, x, foot, labelMm, letters.Regular)
	b.line(p.To, max(x+from+4, min(left+p.ToCm*perCm+1, b.width)-to), foot, labelMm, letters.Regular)
}
