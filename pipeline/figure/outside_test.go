package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate/look"
)

// What is not on the plate is told by its share of the photo, and how unsure a length is at the edge of what is.
func TestOutsideThePlate(t *testing.T) {
	p := square(150) // the photo is 4000 x 3000 px: f = 26/43.27 of its diagonal, 3004 px, so it spans 199.7 x 149.8 cm
	f, _, _ := p.Camera.FocalPx()
	w, h := 3999/f*150, 2999/f*150
	lay := func(left, top, right, bottom float64) Lay { // shares of the photo's width and height that the plate shows
		const cm = 0.1
		return Lay{Picture: look.Picture{
			WidthPx: int(math.Ceil((right-left)*w/cm)) + 1, HeightPx: int(math.Ceil((bottom-top)*h/cm)) + 1, Plane: p,
			From: [6]float64{cm, 0, (left - 0.5) * w, 0, cm, (top - 0.5) * h},
		}}
	}
	for _, c := range []struct {
		lay  Lay
		want float64
	}{{lay(0, 0, 1, 1), 0}, {lay(0.25, 0, 1, 1), 0.25}, {lay(0, 0, 0.75, 1), 0.25}, {lay(0, 0.5, 1, 1), 0.5}, {lay(0, 0, 1, 0.5), 0.5}, {lay(0.25, 0.25, 0.75, 0.75), 0.75}, {lay(-1, -1, 2, 2), 0}} {
		if got := c.lay.leftOut(); math.Abs(got-c.want) > 0.03 || c.want == 0 && got != 0 {
			t.Errorf("%+v: %.3f of the photo is left out, want %.2f", c.lay.Picture, got, c.want)
		}
	}
	if got := lay(0, 0, 1, 1).worstAtEdge(); math.Abs(got-0.001) > 0.02 || got <= 0 {
		t.Errorf("lengths at the edge are good to %g", got)
	}
	text := OutlineText(lay(0.25, 0, 1, 1))
	if !strings.HasPrefix(text, "line: the measured area; outside it lengths are less sure, at the picture's edge up to ± ") || !strings.Contains(text, "Not on this plate: 2") {
		t.Errorf("%q", text)
	}
	if text := OutlineText(lay(0, 0, 1, 1)); strings.Contains(text, "Not on") {
		t.Errorf("all is on the plate: %q", text)
	}
	unsure := *p
	unsure.URel = 0.4 // k = 2: 80 %
	l := lay(0, 0, 1, 1)
	l.Picture.Plane = &unsure
	if text := OutlineText(l); !strings.Contains(text, "by more than ± 50 % (k = 2): measure nothing there") {
		t.Errorf("unsure: %q", text)
	}
	// A slanted plane ends at its horizon, 0.4 of the focal length below the middle: 300 of 3000 px of sky, of which none is on a plate.
	sky := lay(-9, -9, 9, 9)
	sky.Picture.Plane = away()
	if got, want := sky.leftOut(), 1-(0.5+0.4*f/2999); math.Abs(got-want) > 0.05 {
		t.Errorf("%.3f is left out, want the sky, %.3f", got, want)
	}
	c := p.Camera
	for px, want := range map[[2]float64]bool{{-399, 1500}: true, {-401, 1500}: false, {4399, 1500}: true, {4401, 1500}: false, {2000, -399}: true, {2000, -401}: false, {2000, 3399}: true, {2000, 3401}: false} {
		if got := shown(c, at(px[0], px[1])); got != want {
			t.Errorf("%v shown: %t", px, got)
		}
	}
}

// How unsure a length is at the edge goes by the far edge, wherever that is: of a plate whose left or upper edge runs through the
// middle of a photo, whose perspective is known to a little, the right or the lower one.
func TestTheFarEdgeCounts(t *testing.T) {
	f, _, _ := square(150).Camera.FocalPx()
	halfW, halfH := 2000/f*150, 1500/f*150
	for name, c := range map[string]struct {
		term            int // of the homography
		left, top, w, h float64
	}{
		"right": {6, 0, -5, 80, 10}, "left": {6, -80, -5, 80, 10}, "below": {7, -5, 0, 10, 60}, "above": {7, -5, -60, 10, 60},
		"beyond the photo": {6, 0, -5, 4 * halfW, 10}, "beyond it below": {7, -5, 0, 10, 4 * halfH},
	} {
		p := square(150)
		p.Covariance[c.term*(c.term+1)/2+c.term] = 1e-9
		level, _ := p.At(0)
		at := func(u, v float64) float64 {
			d := [2]float64{5, 0}
			if c.term == 7 {
				d = [2]float64{0, 5}
			}
			a, _ := level.Photo(u-d[0], v-d[1])
			b, _ := level.Photo(u+d[0], v+d[1])
			q, err := level.LengthCm(a, b)
			if err != nil {
				t.Fatal(err)
			}
			return q.U / q.Value
		}
		far := map[int]float64{6: min(c.w, halfW), 7: min(c.h, halfH)}[c.term]
		want := at(far, 0)
		if c.term == 7 {
			want = at(0, far)
		}
		l := Lay{Picture: look.Picture{WidthPx: int(c.w/0.1) + 1, HeightPx: int(c.h/0.1) + 1, Plane: p, From: [6]float64{0.1, 0, c.left, 0, 0.1, c.top}}}
		if got := l.worstAtEdge(); math.Abs(got-want) > 0.12*want {
			t.Errorf("%s: %.5f, want %.5f", name, got, want)
		}
	}
}
