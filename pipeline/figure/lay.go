package figure

import (
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

// A Lay is a plate's picture and how it lies over the photo. Plate places are in px of the picture, x right, y down.
type Lay struct {
	Picture look.Picture

	// Mirrored: the plate shows the block as seen from its other side.
	Mirrored bool
}

// Mirror is the lay seen from the other side: left and right change places.
func (l Lay) Mirror() Lay {
	f := &l.Picture.From
	w := float64(l.Picture.WidthPx - 1)
	f[2], f[5] = f[2]+f[0]*w, f[5]+f[3]*w
	f[0], f[3] = -f[0], -f[3]
	l.Mirrored = !l.Mirrored
	return l
}

// Plate takes a photo point to the plate; false beyond the plane's horizon.
func (l Lay) Plate(at calibrate.Point) (x, y float64, ok bool) {
	if l.Picture.Plane == nil {
		x, y = l.OfPlane(at.XPx, at.YPx)
		return x, y, true
	}
	level, err := l.Picture.Plane.At(0)
	if err != nil {
		return 0, 0, false
	}
	u, v, err := level.Cm(at)
	if err != nil {
		return 0, 0, false
	}
	x, y = l.OfPlane(u, v)
	return x, y, true
}

// OfPlane takes (u, v) cm on the plane to the plate; without a plane, photo px.
func (l Lay) OfPlane(u, v float64) (x, y float64) {
	f := l.Picture.From
	det := f[0]*f[4] - f[1]*f[3]
	u, v = u-f[2], v-f[5]
	return (f[4]*u - f[1]*v) / det, (f[0]*v - f[3]*u) / det
}

// Inside tells whether a plate place lies within the picture.
func (l Lay) Inside(x, y float64) bool {
	return x >= 0 && y >= 0 && x <= float64(l.Picture.WidthPx-1) && y <= float64(l.Picture.HeightPx-1)
}

// turnDeg is where an arrow points on the plate, clockwise from its top.
func (l Lay) turnDeg(a Arrow) (deg float64, ok bool) {
	x0, y0, ok0 := l.Plate(a.Tail)
	x1, y1, ok1 := l.Plate(a.Head)
	if !ok0 || !ok1 || math.Hypot(x1-x0, y1-y0) < 1e-6 {
		return 0, false
	}
	return clockwiseDeg(x1-x0, y1-y0), true
}

// bearingDeg is the bearing of what points turnDeg on the plate where north points northDeg; a mirrored plate counts the
// other way round.
func (l Lay) bearingDeg(turnDeg, northDeg float64) float64 {
	if l.Mirrored {
		return positiveDeg(northDeg - turnDeg)
	}
	return positiveDeg(turnDeg - northDeg)
}

// turnOf is the reverse: where on the plate a bearing points.
func (l Lay) turnOf(bearingDeg, northDeg float64) float64 {
	if l.Mirrored {
		return positiveDeg(northDeg - bearingDeg)
	}
	return positiveDeg(northDeg + bearingDeg)
}

// clockwiseDeg is the direction of (dx, dy), y down, clockwise from the top.
func clockwiseDeg(dx, dy float64) float64 { return positiveDeg(math.Atan2(dx, -dy) * 180 / math.Pi) }

func positiveDeg(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// apartDeg is how far two directions are apart, 0 to 180.
func apartDeg(a, b float64) float64 {
	d := positiveDeg(a - b)
	return min(d, 360-d)
}

// sideOf is the margin that a direction on the plate points to most, of those that are not taken.
func sideOf(dx, dy float64, taken ...string) (side string) {
	most := math.Inf(-1)
	for _, c := range []struct {
		side string
		by   float64
	}{{"top", -dy}, {"right", dx}, {"bottom", dy}, {"left", -dx}} {
		if c.by > most && !slices.Contains(taken, c.side) {
			side, most = c.side, c.by
		}
	}
	return side
}
