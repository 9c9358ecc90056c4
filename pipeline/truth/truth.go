// Package truth is a set-up as a photo shows it, with exact truth, for the
// tests of what is said of photos.
package truth

import (
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
)

// TB is what a test gives, whether it is Go's own or a property's.
type TB interface {
	Fatal(args ...any)
	Skip(args ...any)
}

// A Laid set-up is ten by ten squares of 10 cm as a photo shows them, with exact truth. (u, v) is in cm from its middle,
// u at bearing 90° and v at 180° of true north when turnDeg is 0.
type Laid struct {
	TurnDeg float64
	Truth   scene.Plane
	Plane   *calibrate.Plane
}

// Half is half its side, cm.
const Half = 50.0

// LayDown sees the set-up with a camera from any side; relabel is how the finder happened to number the strings, as
// turns of 90 degrees and a change of hand.
func LayDown(t TB, turnDeg float64, c scene.Camera, relabel int) Laid {
	s := scene.Scene{Camera: c, Checkers: []scene.Checker{{Pose: scene.Pose{TurnDeg: turnDeg}, Across: 12, Down: 12, SquareCm: 10}}}
	l := Laid{TurnDeg: turnDeg, Truth: s.Truth().Planes[0]}
	ref, err := calibrate.Checker(12, 12, 10)
	if err != nil {
		t.Fatal(err)
	}
	marks := append([]calibrate.Mark{}, l.Truth.Marks...)
	for i := range marks {
		m := &marks[i]
		for range relabel % 4 {
			m.UCm, m.VCm = -m.VCm, m.UCm
		}
		if relabel >= 4 {
			m.VCm = -m.VCm
		}
	}
	camera := calibrate.Camera{WidthPx: c.WidthPx, HeightPx: c.HeightPx, Focal35Mm: float64(c.TagFocal35Mm())}
	if l.Plane, err = calibrate.FitChecker(ref, camera, marks); err != nil {
		t.Skip(err) // some are seen too obliquely
	}
	return l
}

// Photo is where the photo shows a place of it.
func (l Laid) Photo(t TB, u, v float64) calibrate.Point {
	p, ok := l.Truth.Photo(u, v, 0)
	if !ok {
		t.Fatal("behind the camera")
	}
	return p
}

// Truly takes a plate place to true (u, v), by way of the photo, as the plate's pixels go.
func (l Laid) Truly(t TB, p look.Plate, x, y float64) (u, v float64) {
	f := p.Picture.From
	level, _ := p.Picture.Plane.At(0)
	at, ok := level.Photo(f[0]*x+f[1]*y+f[2], f[3]*x+f[4]*y+f[5])
	if !ok {
		t.Fatal("plate place behind the camera")
	}
	u, v, ok = l.Truth.Cm(at, 0)
	if !ok {
		t.Fatal("plate place off the plane")
	}
	return u, v
}

// Bearing is the true bearing of a direction on the set-up.
func (l Laid) Bearing(du, dv float64) float64 {
	return math.Mod(math.Atan2(dv, du)*180/math.Pi+90+l.TurnDeg+720, 360)
}

// FlatOn is a plane of 10 px/cm seen from straight above.
func FlatOn(t TB) *calibrate.Plane {
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 8, CellsDown: 8}
	corners := [4]calibrate.Point{{XPx: 100, YPx: 100}, {XPx: 900, YPx: 100}, {XPx: 900, YPx: 900}, {XPx: 100, YPx: 900}}
	p, err := calibrate.FitCorners(ref, calibrate.Camera{WidthPx: 1000, HeightPx: 1000, Focal35Mm: 26}, corners, 1)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
