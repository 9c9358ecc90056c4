package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
)

// OutlineText says what the line on a plate is, and how sure a length of 10 cm is at the edge of what the photo shows.
func OutlineText(l Lay) string {
	const text = "line: the measured area; outside it lengths are less sure"
	level, err := l.Picture.Plane.At(0)
	if err != nil {
		return text
	}
	worst := 0.0
	w, h := float64(l.Picture.WidthPx-1), float64(l.Picture.HeightPx-1)
	const steps = 8
	for i := range 4 * steps {
		t := float64(i%steps) / steps
		at := [4][2]float64{{t * w, 0}, {w, t * h}, {w - t*w, h}, {0, h - t*h}}[i/steps]
		f := l.Picture.From
		u, v := f[0]*at[0]+f[1]*at[1]+f[2], f[3]*at[0]+f[4]*at[1]+f[5]
		for _, d := range [][2]float64{{5, 0}, {0, 5}} {
			a, ok1 := level.Photo(u-d[0], v-d[1])
			b, ok2 := level.Photo(u+d[0], v+d[1])
			if !ok1 || !ok2 || !shown(l.Picture.Plane.Camera, a) || !shown(l.Picture.Plane.Camera, b) {
				continue
			}
			if q, err := level.LengthCm(a, b); err == nil {
				worst = max(worst, q.U/q.Value)
			}
		}
	}
	if worst == 0 {
		return text
	}
	return fmt.Sprintf("%s, at the picture's edge ± %.2g %% (k = 2)", text, math.Ceil(1000*worst)/10)
}

// shown tells whether a photo point is in the picture, or so near that the plate's edge runs there.
func shown(c calibrate.Camera, p calibrate.Point) bool {
	m := 0.1 * float64(c.WidthPx)
	return p.XPx > -m && p.YPx > -m && p.XPx < float64(c.WidthPx)+m && p.YPx < float64(c.HeightPx)+m
}
