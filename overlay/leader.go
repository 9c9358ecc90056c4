package overlay

import "math"

// A leader ties a label to its place: a tick in the margin, and where the place lies within the picture, a thin line on to
// a ring around it.
type leader struct {
	word, edge [2]float64 // canvas px: at the word, and at the picture's edge
	place      [2]float64 // canvas px; only where inside
	inside     bool
	plain      bool // without the ring
}

const ringMm = 1.5

func (a *arranged) leader(t tag, side string) leader {
	px := a.PxPerMm
	r := a.Picture
	place := [2]float64{float64(r.Min.X) + t.XPx + 0.5, float64(r.Min.Y) + t.YPx + 0.5}
	x := min(max(place[0], float64(r.Min.X)), float64(r.Max.X))
	y := min(max(place[1], float64(r.Min.Y)), float64(r.Max.Y))
	middle := (t.from + t.room/2) * px
	l := leader{place: place}
	switch tick := (tickMm - 0.6) * px; side {
	case "top":
		l.edge = [2]float64{x, float64(r.Min.Y)}
		l.word = [2]float64{middle, l.edge[1] - tick}
	case "bottom":
		l.edge = [2]float64{x, float64(r.Max.Y)}
		l.word = [2]float64{middle, l.edge[1] + tick}
	case "left":
		l.edge = [2]float64{float64(r.Min.X), y}
		l.word = [2]float64{l.edge[0] - tick, middle}
	case "right":
		l.edge = [2]float64{float64(r.Max.X), y}
		l.word = [2]float64{l.edge[0] + tick, middle}
	}
	deep := math.Hypot(place[0]-l.edge[0], place[1]-l.edge[1])
	l.inside, l.plain = place[0] == x && place[1] == y && deep > 2*ringMm*px, t.Plain
	return l
}

// leader draws one: the tick on the canvas, the rest on the picture alone.
func (d *pen) leader(l leader, on *pen, at [2]float64) {
	d.dc.SetColor(black)
	d.dc.SetLineWidth(max(1, 0.35*d.perMm))
	d.dc.SetLineCapButt()
	d.dc.DrawLine(l.word[0], l.word[1], l.edge[0], l.edge[1])
	d.dc.Stroke()
	if !l.inside {
		return
	}
	x, y := l.place[0]-at[0], l.place[1]-at[1]
	ex, ey := l.edge[0]-at[0], l.edge[1]-at[1]
	if l.plain {
		doubleLine(on.dc, [][2]float64{{ex, ey}, {x, y}}, false, d.perMm)
		return
	}
	long, ring := math.Hypot(x-ex, y-ey), ringMm*d.perMm
	stop := 1 - ring/long
	doubleLine(on.dc, [][2]float64{{ex, ey}, {ex + stop*(x-ex), ey + stop*(y-ey)}}, false, d.perMm)
	circle := make([][2]float64, 48)
	for i := range circle {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(circle)))
		circle[i] = [2]float64{x + ring*cos, y + ring*sin}
	}
	doubleLine(on.dc, circle, true, d.perMm)
}
