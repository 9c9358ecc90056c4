package diagnostic

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/record"
)

const (
	overlayPx     = 2000  // long side of an overlay's picture
	overlayFinePx = 4000  // where the reference is small in the photo
	smallShare    = 0.4   // of the long side: what counts as small
	crowdedShare  = 0.016 // of the long side: what a number takes
	pointerTimes  = 10    // how much longer pointers are drawn than the marks are off
)

// A drawer gathers an overlay. Its places are those of the photo until the end.
type drawer struct {
	look.Overlay
	lo, hi calibrate.Point // box about all marks
	legend map[string]bool

	apartPx float64 // line numbers nearer than this in the photo are left out
}

// Drawing is what the overlay of a photo says and shows. found is what came of
// each reference that pixels were read for, segments are lengths to be drawn too.
func Drawing(r *record.Record, found []look.Found, segments [][2]calibrate.Point) look.Overlay {
	d := drawer{legend: map[string]bool{}, lo: calibrate.Point{XPx: math.Inf(1), YPx: math.Inf(1)}, hi: calibrate.Point{XPx: math.Inf(-1), YPx: math.Inf(-1)}}
	d.Heading = letters.Spell(r.Photo.File)
	d.apartPx = crowdedShare * float64(max(r.Camera().WidthPx, r.Camera().HeightPx))
	next := 0
	for _, s := range r.Sightings {
		var f look.Found
		if s.Reference.Kind != calibrate.KindPoints {
			f = found[next]
			next++
		}
		if s.Plane != nil {
			d.scaled(s, f)
		} else {
			d.refused(s, f)
		}
	}
	for _, level := range r.DepthsBetween {
		d.say("%s", level)
	}
	for _, s := range segments {
		d.curve(look.StrokeMeasured, s[:])
		d.legend["measured"] = true
	}
	d.explain()
	long := float64(max(r.Camera().WidthPx, r.Camera().HeightPx))
	fine := float64(overlayPx)
	if box := max(d.hi.XPx-d.lo.XPx, d.hi.YPx-d.lo.YPx); box > 0 && box < smallShare*long {
		fine = overlayFinePx
	}
	d.Picture = layout.Whole(r.Camera(), fine)
	d.reduce()
	return d.Overlay
}

func (d *drawer) say(format string, args ...any) {
	d.Texts = append(d.Texts, letters.Spell(fmt.Sprintf(format, args...)))
}

func (d *drawer) curve(s look.Stroke, through []calibrate.Point) {
	c := look.Curve{Stroke: s}
	for _, at := range through {
		if math.Abs(at.XPx) < 1e5 && math.Abs(at.YPx) < 1e5 {
			c.Through = append(c.Through, [2]float64{at.XPx, at.YPx})
		}
	}
	if len(c.Through) > 1 {
		d.Curves = append(d.Curves, c)
	}
}

// spot draws a mark, and the pointer of one that has a place on a plane.
func (d *drawer) spot(m calibrate.Residual) {
	tip := calibrate.Point{
		XPx: m.Expected.XPx + pointerTimes*(m.Mark.At.XPx-m.Expected.XPx),
		YPx: m.Expected.YPx + pointerTimes*(m.Mark.At.YPx-m.Expected.YPx),
	}
	d.Spots = append(d.Spots, look.Spot{At: pair(m.Mark.At), From: pair(m.Expected), Tip: pair(tip), Used: m.Used})
	d.hold(m.Mark.At)
}

// hold widens the box about what was found.
func (d *drawer) hold(at calibrate.Point) {
	d.lo = calibrate.Point{XPx: min(d.lo.XPx, at.XPx), YPx: min(d.lo.YPx, at.YPx)}
	d.hi = calibrate.Point{XPx: max(d.hi.XPx, at.XPx), YPx: max(d.hi.YPx, at.YPx)}
}

func pair(p calibrate.Point) [2]float64 { return [2]float64{p.XPx, p.YPx} }

// reduce takes all places from the photo to the overlay's picture.
func (d *drawer) reduce() {
	by, shift := d.Picture.From[0], d.Picture.From[2]
	at := func(p *[2]float64) { p[0], p[1] = (p[0]-shift)/by, (p[1]-shift)/by }
	for i := range d.Curves {
		for k := range d.Curves[i].Through {
			at(&d.Curves[i].Through[k])
		}
	}
	for i := range d.Spots {
		at(&d.Spots[i].At)
		at(&d.Spots[i].From)
		at(&d.Spots[i].Tip)
	}
}
