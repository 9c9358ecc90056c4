package calibrate

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// facing is a plane square before the camera, its middle (x, y) cm aside from the axis; no covariance.
func facing(distanceCm, x, y float64) *Plane {
	return &Plane{
		Camera:     Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26},
		Homography: [9]float64{1 / distanceCm, 0, x / distanceCm, 0, 1 / distanceCm, y / distanceCm, 0, 0, 1},
		Corners:    [4][2]float64{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}},
	}
}

// What goes into the U of a depth, part by part: the focal length, the references' own sizes, and the tilt that two points do not
// tell: at 6 degrees something 40 cm aside may lie 40 sin 6° nearer, and the distance itself be 1 - cos 6° less. Half-widths of a
// rectangular distribution count by 1/√3 (JCGM 100:2008, 4.3.7), k = 2.
func TestWhatADepthsUHolds(t *testing.T) {
	focal := uFocalRel
	sized := func(p *Plane, u float64) *Plane { p.URel = u; return p }
	leaning := func(p *Plane, deg float64) *Plane { p.TiltAllowanceDeg = deg; return p }
	sin, cos := math.Sincos(6 * math.Pi / 180)
	lean := func(aside, distance float64) float64 { return (sin*aside + (1-cos)*distance) / math.Sqrt(3) }
	for name, c := range map[string]struct {
		a, b *Plane
		want float64 // depth
		u    []float64
	}{
		"nothing but the focal length": {facing(150, 0, 0), facing(160, 0, 0), 10, []float64{10 * focal}},
		"above":                        {facing(150, 0, 0), facing(120, 30, -20), -30, []float64{30 * focal}},
		"a's own size":                 {sized(facing(150, 0, 0), 0.01), facing(160, 0, 0), 10, []float64{10 * focal, 1.5}},
		"b's own size":                 {facing(150, 0, 0), sized(facing(160, 0, 0), 0.01), 10, []float64{10 * focal, 1.6}},
		"a's tilt, 40 cm aside":        {leaning(facing(150, 0, 0), 6), facing(160, 24, 32), 10, []float64{10 * focal, lean(40, 150)}},
		"b's tilt, 40 cm aside":        {facing(150, -24, 0), leaning(facing(160, 0, 32), 6), 10, []float64{10 * focal, lean(40, 160)}},
		"both, one over the other":     {leaning(facing(150, 5, 5), 6), leaning(facing(160, 5, 5), 6), 10, []float64{10 * focal, lean(0, 150), lean(0, 160)}},
	} {
		q, err := DepthBetween(Sighting{Plane: c.a}, Sighting{Plane: c.b})
		sum := 0.0
		for _, u := range append(c.u, uModelRel*150, uModelRel*160) {
			sum += u * u
		}
		if want := 2 * math.Sqrt(sum); err != nil || math.Abs(q.Value-c.want) > 1e-6 || math.Abs(q.U-want) > 0.003*want+0.003 {
			t.Errorf("%s: %.4f ± %.4f cm, %v, want %.4f ± %.4f", name, q.Value, q.U, err, c.want, want)
		}
	}
}

// A difference of scale that takes more than 60 cm of depth, U on top, is a contradiction; behind or before alike.
func TestHowDeepIsBelieved(t *testing.T) {
	for _, c := range []struct {
		a, b     float64
		believed bool
	}{{150, 209, true}, {150, 213, true}, {150, 220, false}, {213, 150, true}, {220, 150, false}} {
		a, b := facing(c.a, 0, 0), facing(c.b, 0, 0)
		depth := math.Abs(c.b - c.a)
		if limit := 60 / (1 - 2*uFocalRel); (depth < limit) != c.believed { // the focal length's share alone: |d| (1 - 2 u) against 60
			t.Fatalf("the case %g to %g lies on the wrong side of %.1f", c.a, c.b, limit)
		}
		_, err := DepthBetween(Sighting{Plane: a}, Sighting{Plane: b})
		var why *Refusal
		if (err == nil) != c.believed || err != nil && (!errors.As(err, &why) || !strings.Contains(why.Reason, "contradict each other")) {
			t.Errorf("%g cm apart: %v", depth, err)
		}
	}
	a, b := facing(150, 0, 0), facing(160, 0, 0)
	b.Camera.WidthPx = 3999
	if _, err := DepthBetween(Sighting{Plane: a}, Sighting{Plane: b}); err == nil {
		t.Error("planes of two cameras have a depth between them")
	}
	b.Homography[0] = 0
	b.Camera = a.Camera
	if _, err := DepthBetween(Sighting{Plane: a}, Sighting{Plane: b}); err == nil {
		t.Error("a plane without extent has a depth")
	}
	if _, err := DepthBetween(Sighting{}, Sighting{Plane: a}); err == nil {
		t.Error("a reference without a plane has a depth")
	}
}

// Cells counted against the frame's own: 8 x 10 or 10 x 8 is the same frame, more are never its, and up to two fewer are lines
// without the frame's edges. Fewer than that are its only where the picture ends.
func TestCellsCountedAgainstTheFrame(t *testing.T) {
	ref := Reference{Kind: KindGrid, PitchCm: 10, CellsAcross: 10, CellsDown: 8}
	f, _, _ := facing(150, 0, 0).Camera.FocalPx()
	edgeU, edgeV := 2000/f*150, 1500/f*150 // of the picture, cm from the middle
	for name, c := range map[string]struct {
		loU, loV, hiU, hiV float64
		ok                 bool
	}{
		"as said":                               {-50, -40, 50, 40, true},
		"the other way round":                   {-40, -50, 40, 50, true},
		"one more across":                       {-50, -40, 60, 40, false},
		"one more down":                         {-50, -40, 50, 50, false},
		"square and too large":                  {-50, -50, 50, 50, false},
		"without the frame's edges":             {-40, -30, 40, 30, true},
		"one row fewer than that":               {-40, -25, 40, 25, false},
		"9 x 7":                                 {-45, -35, 45, 35, true},
		"7 x 7, room all round":                 {-35, -35, 35, 35, false},
		"5 down of ten":                         {-50, -25, 50, 25, false},
		"5 x 8, out of the picture at the left": {-edgeU + 1, -40, -edgeU + 51, 40, true},
		"5 x 8, out at the right":               {edgeU - 51, -40, edgeU - 1, 40, true},
		"10 x 5, out at the top":                {-50, -edgeV + 1, 50, -edgeV + 51, true},
		"10 x 5, out below":                     {-50, edgeV - 51, 50, edgeV - 1, true},
		"5 down with room, out at the left":     {-edgeU + 1, -25, -edgeU + 81, 25, false},
		"5 across with room, out at the top":    {-25, -edgeV + 1, 25, -edgeV + 81, false},
		"a corner of it":                        {-edgeU + 1, -edgeV + 1, -edgeU + 41, -edgeV + 41, true},
		"11 across, out at the left":            {-edgeU + 1, -40, -edgeU + 111, 40, false},
	} {
		p := facing(150, 0, 0)
		p.Corners = [4][2]float64{{c.loU, c.loV}, {c.hiU, c.loV}, {c.hiU, c.hiV}, {c.loU, c.hiV}}
		if err := judgeCells(ref, p); (err == nil) != c.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
	silent := ref
	silent.CellsAcross, silent.CellsDown = 0, 0
	if err := judgeCells(silent, facing(150, 0, 0)); err != nil {
		t.Errorf("a frame of which nothing is said: %v", err)
	}
	// Room is two cells more, in the picture to a pixel.
	cm := 150 / f // of a pixel
	for name, c := range map[string]struct {
		direction int
		lo, hi    [2]float64
		room      bool
	}{
		"left":         {0, [2]float64{-edgeU + 20 + 2*cm, -40}, [2]float64{0, 40}, true},
		"not left":     {0, [2]float64{-edgeU + 20 - 2*cm, -40}, [2]float64{0, 40}, false},
		"right":        {0, [2]float64{0, -40}, [2]float64{edgeU - 20 - 2*cm, 40}, true},
		"not right":    {0, [2]float64{0, -40}, [2]float64{edgeU - 20 + 2*cm, 40}, false},
		"top":          {1, [2]float64{-40, -edgeV + 20 + 2*cm}, [2]float64{40, 0}, true},
		"not top":      {1, [2]float64{-40, -edgeV + 20 - 2*cm}, [2]float64{40, 0}, false},
		"bottom":       {1, [2]float64{-40, 0}, [2]float64{40, edgeV - 20 - 2*cm}, true},
		"not bottom":   {1, [2]float64{-40, 0}, [2]float64{40, edgeV - 20 + 2*cm}, false},
		"aside, out":   {0, [2]float64{-50, edgeV + 1}, [2]float64{50, edgeV + 3}, false},
		"aside, above": {0, [2]float64{-50, -edgeV - 3}, [2]float64{50, -edgeV - 1}, false},
		"half aside":   {0, [2]float64{-50, edgeV - 40}, [2]float64{50, edgeV + 30}, true},
	} {
		p := facing(150, 0, 0)
		p.Corners = [4][2]float64{c.lo, {c.hi[0], c.lo[1]}, c.hi, {c.lo[0], c.hi[1]}}
		if got := p.roomBeyond(ref, c.direction); got != c.room {
			t.Errorf("room %s: %t", name, got)
		}
	}
}
