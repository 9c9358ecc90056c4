package layout

import (
	"cmp"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
)

const (
	platePx   = 3000 // the long side of a plate's picture, at most,
	steepPx   = 5400 // or this, so that a steep view keeps half the photo's fineness at the reference
	mostTimes = 3    // a plate is this many times longer than the ground of a photo taken from straight above, at most
	farShare  = 0.5  // of the photo's fineness at the reference: ground that was seen less finely is left out
	printCm   = 16   // a plate's picture is printed this wide at most, its margins beside it
	printTall = 15   // and this tall
)

// UnscaledPx is the long side of the picture of a photo without scale.
const UnscaledPx = 2000

// ratios are the scales at which a plate is printed: 1:1, 1:2, ...
var ratios = []float64{1, 2, 5, 10, 20, 50, 100}

// Want is what a plate shows of its plane, and how it is turned. The zero value is all that was seen well, upright as the
// photo is.
type Want struct {
	TurnDeg float64      // clockwise, from upright
	Show    [][2]float64 // places on the plane, cm, that it is cropped to, with a margin; nil: it is not cropped
	Margin  float64      // beside them, as a share of the longer side that they take up
	Whole   bool         // the far ground too, as far as a plate can hold it
}

// Scaled lays a plate over what a photo shows of the
// reference's plane, at a round number of pixels per
// centimetre no finer than the photo, and never mirrored. Towards the horizon
// ground takes a plate without end: what was seen less than half as fine as the
// reference is left out, or, of the whole, what would make the plate longer than mostTimes. Up to a tilt of 40 degrees
// nothing is missing of the whole, with the lens of a phone (24 mm or longer), however it was turned
// about its own axis; beyond, a corner may look to the horizon.
func Scaled(plane *calibrate.Plane, want Want) (look.Picture, bool) {
	level, err := plane.At(0)
	if err != nil {
		return look.Picture{}, false
	}
	mu, mv := plane.MiddleCm()
	middle, err := level.ScalePxPerCm(mu, mv)
	if err != nil {
		return look.Picture{}, false
	}
	cos, sin, hand, ok := upright(level, mu, mv)
	if !ok {
		return look.Picture{}, false
	}
	s, c := math.Sincos(want.TurnDeg * math.Pi / 180)
	cos, sin = cos*c+sin*s, sin*c-cos*s
	// cm on the plane to turned cm on the plate, about the middle
	turn := func(u, v float64) (x, y float64) {
		u, v = u-mu, (v-mv)*hand
		return cos*u + sin*v, -sin*u + cos*v
	}
	across := float64(max(plane.Camera.WidthPx, plane.Camera.HeightPx)) / middle.Value // cm
	least := 0.0
	if !want.Whole && want.Show == nil {
		least = farShare * fineness(level, mu, mv)
	}
	lo, hi := extent(level, plane, mostTimes*across, least, turn)
	if want.Show != nil {
		lo, hi = cropped(lo, hi, want, turn)
	}
	w, h := hi[0]-lo[0], hi[1]-lo[1]
	if !(w > 0 && h > 0) {
		return look.Picture{}, false
	}
	long := max(w, h)
	pxPerCm := overlay.RoundPxPerCm(min(middle.Value, max(platePx/long, min(steepPx/long, middle.Value/2))))
	p := look.Picture{
		WidthPx:  max(1, int(w*pxPerCm)),
		HeightPx: max(1, int(h*pxPerCm)),
		Plane:    plane,
		PxPerCm:  pxPerCm,
		// the turn above undone: plate px to turned cm, to plane cm
		From: [6]float64{
			cos / pxPerCm, -sin / pxPerCm, cos*lo[0] - sin*lo[1] + mu,
			hand * sin / pxPerCm, hand * cos / pxPerCm, hand*(sin*lo[0]+cos*lo[1]) + mv,
		},
	}
	p.PrintDPI = pxPerCm * 2.54 * printRatio(w, h)
	return p, true
}

// Upright is how a photo shows its plane, at a pixel a centimetre about the
// middle of what is measured: to see which way things point.
func Upright(plane *calibrate.Plane) (look.Picture, bool) {
	level, err := plane.At(0)
	if err != nil {
		return look.Picture{}, false
	}
	mu, mv := plane.MiddleCm()
	cos, sin, hand, ok := upright(level, mu, mv)
	return look.Picture{WidthPx: 1, HeightPx: 1, Plane: plane, PxPerCm: 1, From: [6]float64{cos, -sin, mu, hand * sin, hand * cos, mv}}, ok
}

// cropped is the part of a plate's extent about what it has to show.
func cropped(lo, hi [2]float64, want Want, turn func(u, v float64) (x, y float64)) (from, to [2]float64) {
	from, to = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, place := range want.Show {
		x, y := turn(place[0], place[1])
		from, to = [2]float64{min(from[0], x), min(from[1], y)}, [2]float64{max(to[0], x), max(to[1], y)}
	}
	margin := want.Margin * max(to[0]-from[0], to[1]-from[1])
	for k := range 2 {
		from[k], to[k] = max(lo[k], from[k]-margin), min(hi[k], to[k]+margin)
	}
	return from, to
}

// printRatio is the n of the largest scale 1:n at which a plate of w x h cm
// fits the page.
func printRatio(w, h float64) float64 {
	for _, n := range ratios {
		if w/n <= printCm && h/n <= printTall {
			return n
		}
	}
	return ratios[len(ratios)-1]
}

// upright is the turn that brings the plane's first direction to where the
// photo shows it: a turned plate would puzzle whoever holds it beside the
// photo. hand is -1 where the reference's own directions run against the
// clock in the picture.
func upright(level calibrate.Level, u, v float64) (cos, sin, hand float64, ok bool) {
	const d = 0.05
	a, ok1 := level.Photo(u-d, v)
	b, ok2 := level.Photo(u+d, v)
	c, ok3 := level.Photo(u, v-d)
	e, ok4 := level.Photo(u, v+d)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return 0, 0, 0, false
	}
	ux, uy, vx, vy := b.XPx-a.XPx, b.YPx-a.YPx, e.XPx-c.XPx, e.YPx-c.YPx
	hand = 1
	if ux*vy-uy*vx < 0 {
		hand = -1
	}
	// the turn nearest to the 2 x 2 map, in the sense of least squares
	x, y := ux+hand*vy, hand*vx-uy
	n := math.Hypot(x, y)
	if !(n > 0) {
		return 0, 0, 0, false
	}
	return x / n, y / n, hand, true
}

// extent is the box, in upright cm about the middle, of what the photo shows,
// taken in from the finest to the coarsest as long as no side of it is longer
// than mostCm, and what is seen is at least so many px/cm fine.
func extent(level calibrate.Level, plane *calibrate.Plane, mostCm, leastFine float64, turn func(u, v float64) (x, y float64)) (lo, hi [2]float64) {
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range plane.Corners {
		x, y := turn(c[0], c[1])
		lo, hi = [2]float64{min(lo[0], x), min(lo[1], y)}, [2]float64{max(hi[0], x), max(hi[1], y)}
	}
	type place struct{ x, y, fine float64 }
	const steps = 48
	w, h := float64(plane.Camera.WidthPx-1), float64(plane.Camera.HeightPx-1)
	at := func(i, j int) (p place, ok bool) {
		u, v, err := level.Cm(calibrate.Point{XPx: w * float64(i) / steps, YPx: h * float64(j) / steps})
		if err == nil {
			p.x, p.y = turn(u, v)
			p.fine = fineness(level, u, v)
		}
		return p, err == nil && p.fine >= leastFine
	}
	with := func(lo, hi [2]float64, p place) (wider, taller [2]float64, fits bool) {
		wider = [2]float64{min(lo[0], p.x), min(lo[1], p.y)}
		taller = [2]float64{max(hi[0], p.x), max(hi[1], p.y)}
		return wider, taller, max(taller[0]-wider[0], taller[1]-wider[1]) <= mostCm
	}
	// Where the photo's rim lies on the plane, is fine enough and fits, all within it does.
	rimLo, rimHi, whole := lo, hi, true
	for i := 0; i <= steps && whole; i++ {
		for _, ij := range [][2]int{{i, 0}, {i, steps}, {0, i}, {steps, i}} {
			p, ok := at(ij[0], ij[1])
			fits := false
			if ok {
				rimLo, rimHi, fits = with(rimLo, rimHi, p)
			}
			whole = whole && ok && fits
		}
	}
	if whole {
		return rimLo, rimHi
	}
	var places []place
	for i := range steps + 1 {
		for j := range steps + 1 {
			if p, ok := at(i, j); ok {
				places = append(places, p)
			}
		}
	}
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.fine, a.fine) })
	for _, p := range places {
		wider, taller, fits := with(lo, hi, p)
		if !fits {
			break
		}
		lo, hi = wider, taller
	}
	return lo, hi
}

// fineness is the photo's scale at a place, px/cm, from the photo places of
// its neighbourhood: ScalePxPerCm without its uncertainty, which takes most of
// the time. 0: not seen there.
func fineness(level calibrate.Level, u, v float64) float64 {
	const d = 0.01
	a, ok1 := level.Photo(u, v)
	b, ok2 := level.Photo(u+d, v)
	c, ok3 := level.Photo(u, v+d)
	if !ok1 || !ok2 || !ok3 {
		return 0
	}
	return math.Sqrt(math.Abs((b.XPx-a.XPx)*(c.YPx-a.YPx)-(b.YPx-a.YPx)*(c.XPx-a.XPx))) / d
}

// Whole shows a photo without regard to scale, upright and uncut,
// longPx at most on its long side.
func Whole(c calibrate.Camera, longPx float64) look.Picture {
	w, h := float64(c.WidthPx), float64(c.HeightPx)
	by := max(1, max(w, h)/longPx)
	p := look.Picture{
		WidthPx:  max(1, int(w/by)),
		HeightPx: max(1, int(h/by)),
		From:     [6]float64{by, 0, (by - 1) / 2, 0, by, (by - 1) / 2},
	}
	p.PrintDPI = max(float64(p.WidthPx)/printCm, float64(p.HeightPx)/printTall) * 2.54
	return p
}
