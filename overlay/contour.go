package overlay

import (
	"math"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

// A level line: thin and dark within light, the heavy ones as wide again.
const (
	contourMm      = 0.18
	contourHeavyMm = 0.36
	contourLightMm = 0.7
	contourTextMm  = 2.3
	leastLabelMm   = 14 // of line, for a number to be set into it
)

// contours draws level lines and sets their numbers into them, upright, where no other number and no label's ring stands.
func (d *pen) contours(all []look.Contour, labels []look.Label) {
	for _, c := range all {
		through := centres(c.Through)
		wide := contourMm
		if c.Heavy {
			wide = contourHeavyMm
		}
		if len(through) > 1 {
			stroke(d.dc, through, false, white, max(2, (contourLightMm+wide-contourMm)*d.perMm))
			stroke(d.dc, through, false, black, max(1, wide*d.perMm))
		}
	}
	var taken [][4]float64
	for _, l := range labels {
		if ring := ringMm * d.perMm; !l.Plain {
			taken = append(taken, [4]float64{l.XPx - ring, l.YPx - ring, l.XPx + ring, l.YPx + ring})
		}
	}
	for _, c := range all {
		if c.Text == "" {
			continue
		}
		wide, tall := widthMm(c.Text, contourTextMm, letters.Bold), 0.86*contourTextMm
		at, ok := d.labelPlace(centres(c.Through), wide*d.perMm, tall*d.perMm, taken)
		if !ok {
			continue
		}
		taken = append(taken, at)
		d.fill(white, at[0], at[1], at[2]-at[0], at[3]-at[1])
		d.words(words{text: c.Text, x: at[0]/d.perMm + 0.3, y: at[3]/d.perMm - 0.14*contourTextMm, em: contourTextMm, weight: letters.Bold})
	}
}

// labelPlace is the box, in px, of a number on a line: where the line runs straightest for its width, away from the numbers
// that stand and wholly in the picture; false where there is none.
func (d *pen) labelPlace(through [][2]float64, wide, tall float64, taken [][4]float64) (best [4]float64, ok bool) {
	long := 0.0
	for i := 1; i < len(through); i++ {
		long += math.Hypot(through[i][0]-through[i-1][0], through[i][1]-through[i-1][1])
	}
	if long < leastLabelMm*d.perMm {
		return best, false
	}
	w, h := wide+0.6*d.perMm, tall+0.3*d.perMm
	size := d.canvas.Rect.Size()
	straightest := math.Inf(-1)
	for i := 1; i+1 < len(through); i++ {
		p := through[i]
		box := [4]float64{p[0] - w/2, p[1] - h/2, p[0] + w/2, p[1] + h/2}
		if box[0] < 0 || box[1] < 0 || box[2] > float64(size.X) || box[3] > float64(size.Y) || meets(box, taken, 2*d.perMm) {
			continue
		}
		back, on := chord(through, i, -1, w), chord(through, i, 1, w)
		straight := -(back[0]*on[0] + back[1]*on[1]) + 0.05*math.Abs(on[0]) // level ones are read best
		if straight > straightest+1e-9 {
			best, straightest, ok = box, straight, true
		}
	}
	return best, ok
}

// chord is the direction from a line's i-th place to the first one that lies far enough on, one px long.
func chord(through [][2]float64, i, step int, far float64) [2]float64 {
	p := through[i]
	for j := i + step; j >= 0 && j < len(through); j += step {
		dx, dy := through[j][0]-p[0], through[j][1]-p[1]
		if long := math.Hypot(dx, dy); long >= far || (j+step < 0 || j+step >= len(through)) && long > 0 {
			return [2]float64{dx / long, dy / long}
		}
	}
	return [2]float64{}
}

// meets tells whether a box comes nearer to one of the others than it may.
func meets(box [4]float64, others [][4]float64, apart float64) bool {
	for _, o := range others {
		if box[0] < o[2]+apart && o[0] < box[2]+apart && box[1] < o[3]+apart && o[1] < box[3]+apart {
			return true
		}
	}
	return false
}
