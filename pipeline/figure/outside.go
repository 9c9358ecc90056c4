package figure

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
)

// OutlineText says what the line on a plate is, how sure a length of 10 cm is at the edge of what the plate shows, and how
// much of the photo is not on it.
func OutlineText(l Lay) string {
	text := "line: the measured area; outside it lengths are less sure"
	switch worst := 100 * l.worstAtEdge(); {
	case worst > 50:
		text += ", at the picture's edge by more than ± 50 % (k = 2): measure nothing there"
	case worst > 0:
		text += fmt.Sprintf(", at the picture's edge up to ± %.2g %% (k = 2)", math.Ceil(10*worst)/10)
	}
	if share := l.leftOut(); share > 0 {
		text += fmt.Sprintf(". Not on this plate: %.0f %% of the photo; see the photo as taken", math.Max(1, 100*share))
	}
	return text
}

// worstAtEdge is the largest relative U of a length of 10 cm along the plate's edge and the photo's, where the plate
// shows the photo; 0: nothing is known.
func (l Lay) worstAtEdge() (worst float64) {
	plane := l.Picture.Plane
	level, err := plane.At(0)
	if err != nil {
		return 0
	}
	length := func(u, v float64) {
		for _, d := range [][2]float64{{5, 0}, {0, 5}} {
			a, ok1 := level.Photo(u-d[0], v-d[1])
			b, ok2 := level.Photo(u+d[0], v+d[1])
			if !ok1 || !ok2 || !shown(plane.Camera, a) || !shown(plane.Camera, b) {
				continue
			}
			if q, err := level.LengthCm(a, b); err == nil {
				worst = max(worst, q.U/q.Value)
			}
		}
	}
	const steps = 8
	for i := range 4 * steps {
		t := float64(i%steps) / steps
		at := [4][2]float64{{t, 0}, {1, t}, {1 - t, 1}, {0, 1 - t}}[i/steps] // shares of width and height, once round
		x, y := at[0]*float64(l.Picture.WidthPx-1), at[1]*float64(l.Picture.HeightPx-1)
		length(l.Picture.Source(x, y))
		p := calibrate.Point{XPx: at[0] * float64(plane.Camera.WidthPx-1), YPx: at[1] * float64(plane.Camera.HeightPx-1)}
		if u, v, err := level.Cm(p); err == nil && l.Inside(l.OfPlane(u, v)) {
			length(u, v)
		}
	}
	return worst
}

// leftOut is the share of the photo that lies outside the plate or beyond the plane's horizon.
func (l Lay) leftOut() float64 {
	plane := l.Picture.Plane
	level, err := plane.At(0)
	if err != nil {
		return 1
	}
	const steps = 50
	out := func(i, j int) bool {
		u, v, err := level.Cm(calibrate.Point{XPx: float64(plane.Camera.WidthPx-1) * float64(i) / steps, YPx: float64(plane.Camera.HeightPx-1) * float64(j) / steps})
		x, y := l.OfPlane(u, v)
		const rounding = 2 // px that a plate's whole number of pixels may be short of the photo's corner
		return err != nil || x < -rounding || y < -rounding || x > float64(l.Picture.WidthPx-1)+rounding || y > float64(l.Picture.HeightPx-1)+rounding
	}
	rim, all := 0, 0
	for i := range steps + 1 {
		for _, ij := range [][2]int{{i, 0}, {i, steps}, {0, i}, {steps, i}} {
			if out(ij[0], ij[1]) {
				rim++
			}
		}
	}
	if rim == 0 {
		return 0 // then nothing within it is off the plate either
	}
	for i := range steps + 1 {
		for j := range steps + 1 {
			if out(i, j) {
				all++
			}
		}
	}
	return float64(all) / ((steps + 1) * (steps + 1))
}

// shown tells whether a photo point is in the picture, or so near that the plate's edge runs there.
func shown(c calibrate.Camera, p calibrate.Point) bool {
	m := 0.1 * float64(c.WidthPx)
	return p.XPx > -m && p.YPx > -m && p.XPx < float64(c.WidthPx)+m && p.YPx < float64(c.HeightPx)+m
}
