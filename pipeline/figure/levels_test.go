package figure

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

func TestHowADepthIsSaid(t *testing.T) {
	for _, c := range []struct {
		d    Depth
		want string
	}{
		{Depth{}, "at the level of the strings"}, {Depth{Cm: -2.5}, "2.5 cm above the strings"}, {Depth{Cm: 8}, "8 cm below the strings"},
		{Depth{Cm: 12.1, U: 1.5, By: "card 7"}, "12.1 ± 1.5 cm below the strings by card 7"}, {Depth{Cm: 8, On: "set-up S2"}, "8 cm below the strings"},
	} {
		if got := c.d.Below("strings"); got != c.want {
			t.Errorf("%+v: %q, want %q", c.d, got, c.want)
		}
	}
	// Half of a measured depth's U (k = 2) beside the 0.5 cm of a tape: 0.5, hypot(0.5, 1.2) = 1.3.
	if u := (Depth{Cm: 8}).uCm(); u != 0.5 {
		t.Errorf("a taped depth is known to %g cm", u)
	}
	if u := (Depth{Cm: 8, U: 2.4}).uCm(); math.Abs(u-1.3) > 1e-9 {
		t.Errorf("a measured depth is known to %g cm, want 1.3", u)
	}
}

// A camera 150 cm over the strings: 10 cm below them a scale is 150/160 of its own, and half a centimetre of depth is 0.5/160.5 of
// it, which U doubles (k = 2).
func TestScaleAtTheBone(t *testing.T) {
	p := square(150)
	share, u, ok := AtDepth(p, Depth{Cm: 10}, 0, 0)
	want := math.Hypot(2*math.Hypot(0.001, 2e-5), math.Hypot(2*0.05*10/160, 2*0.5/160.5)) // the reference's, the lens model's, the focal length's, the depth's
	if !ok || math.Abs(share-150.0/160) > 1e-9 || math.Abs(u-want) > 1e-9 {
		t.Errorf("share %.6f ± %.6f, %t, want %.6f ± %.6f", share, u, ok, 150.0/160, want)
	}
	if share, _, ok := AtDepth(p, Depth{Cm: -30}, 0, 0); !ok || math.Abs(share-150.0/120) > 1e-9 {
		t.Errorf("30 cm above: share %g, %t, want 1.25", share, ok)
	}
	blind := *p
	blind.Camera.Focal35Mm = 0
	if _, _, ok := AtDepth(&blind, Depth{Cm: 10}, 0, 0); ok {
		t.Error("a scale below the strings without the focal length")
	}
	if text := WhatBelow(&blind); text != "the photo does not tell how much shorter bones below it read" {
		t.Errorf("without the focal length: %q", text)
	}
	if text := BySquare(&blind, 0, []register.SquareDepth{{Square: "B3", DepthCm: 6}}); !strings.HasPrefix(text, "B3 6 cm. ") {
		t.Errorf("without the focal length: %q", text)
	}
	for _, c := range []struct{ bar, depth float64 }{{-200, 0}, {0, -200}, {-200, -200}} { // behind the camera
		if by, ok := byBar(p, c.bar)(c.depth); ok {
			t.Errorf("a bar %g cm and bone %g cm below: × %g", c.bar, c.depth, by)
		}
	}
	if text := Parallax(&blind, nil, "strings", true); text != "" {
		t.Errorf("without the focal length: %q", text)
	}
}

// What is measured below the strings is longer by (150 + d)/150, its area by the square of that, and less sure by what the depth's own
// half centimetre makes.
func TestMeasure(t *testing.T) {
	p := square(150)
	level, _ := p.At(0)
	var at []calibrate.Point
	for _, q := range [][2]float64{{-20, -10}, {20, -10}, {20, 15}, {-20, 15}} {
		photo, _ := level.Photo(q[0], q[1])
		at = append(at, photo)
	}
	for depth, times := range map[float64]float64{0: 1, 10: 16.0 / 15, -10: 14.0 / 15} {
		length, err := Measure(p, at[:2], Depth{Cm: depth})
		if err != nil || math.Abs(length.Value-40*times) > 1e-6 {
			t.Errorf("%g cm below: %v, %v, want %.3f cm", depth, length, err, 40*times)
		}
		area, err := Measure(p, at, Depth{Cm: depth})
		if err != nil || math.Abs(area.Value-1000*times*times) > 1e-4 {
			t.Errorf("%g cm below: %v, %v, want %.1f cm²", depth, area, err, 1000*times*times)
		}
		below, _ := p.At(depth)
		picked, _ := below.PickedLengthCm(at[0], at[1], PickPx)
		want := picked.U
		if depth != 0 {
			want = math.Hypot(want, 2*40*0.5/150) // of 40 cm at 150 cm, half a centimetre of depth, k = 2
		}
		if math.Abs(length.U-want) > 1e-6 {
			t.Errorf("%g cm below: ± %.6f cm, want %.6f", depth, length.U, want)
		}
	}
	blind := *p
	blind.Camera.Focal35Mm = 0
	if _, err := Measure(&blind, at[:2], Depth{Cm: 5}); err == nil {
		t.Error("a length below the strings without the focal length")
	}
	own, bone := 20.0, &Depth{Cm: 10}
	for _, c := range []struct {
		level *float64
		bone  *Depth
		want  float64
		where string
	}{{nil, nil, 1000, "at the level of the strings"}, {nil, bone, 1000 * 256.0 / 225, "10 cm below the strings"}, {&own, bone, 1000 * 289.0 / 225, "20 cm below the strings"}} {
		q, where, err := Outline{Points: at, LevelCm: c.level}.Area(p, c.bone, "strings")
		if err != nil || math.Abs(q.Value-c.want) > 1e-3 || where != c.where {
			t.Errorf("area %v %q, %v, want %.1f %q", q, where, err, c.want, c.where)
		}
	}
}

// A tape agrees where it differs from the plate by no more than both U together; the text says so.
func TestTapeWithin(t *testing.T) {
	p := square(150)
	level, _ := p.At(0)
	a, _ := level.Photo(-20, 0)
	b, _ := level.Photo(20, 0)
	q, err := Measure(p, []calibrate.Point{a, b}, Depth{})
	if err != nil {
		t.Fatal(err)
	}
	limit := math.Hypot(10*q.U, 4/math.Sqrt(3)) // of the plate, and of a tape good to 2 mm either way, k = 2
	for off, within := range map[float64]bool{0.98: true, -0.98: true, 1.02: false, -1.02: false} {
		got := Checks(p, Depth{}, []Tape{{"A1", "F6", 400 + off*limit, [2]calibrate.Point{a, b}}})
		if len(got) != 1 || got[0].Within != within || math.Abs(got[0].PlateMm.Value-400) > 1e-6 || math.Abs(got[0].PlateMm.U-10*q.U) > 1e-9 {
			t.Errorf("off by %g of the limit: %+v", off, got)
		}
		if text := got[0].String(); strings.Contains(text, "OUTSIDE") == within || strings.Contains(text, "within U") != within || !strings.HasPrefix(text, "A1 to F6: tape ") {
			t.Errorf("%q", text)
		}
	}
	if got := Checks(p, Depth{}, []Tape{{"A1", "F6", 400, [2]calibrate.Point{a, a}}}); len(got) != 0 {
		t.Errorf("a tape of no length is checked: %+v", got)
	}
	if got := Checks(away(), Depth{}, []Tape{{"A1", "F6", 400, [2]calibrate.Point{a, at(2000, 2900)}}}); len(got) != 0 {
		t.Errorf("a tape into the sky is checked: %+v", got)
	}
}

// The picture of the exposed bone lies over the jacket's plate square on square, though that was photographed from the other side.
func TestOverThePlaster(t *testing.T) {
	exposed, jacket := square(150), square(200)
	jacket.Homography[0], jacket.Homography[4] = -jacket.Homography[0], -jacket.Homography[4]
	a, why := SquaresOf(exposed, 10, register.SetUp{}, marked(exposed, -50, -50, 0, -50))
	if why != "" {
		t.Fatal(why)
	}
	b, why := SquaresOf(jacket, 10, register.SetUp{}, marked(jacket, 50, 50, 50, 0)) // its strings are numbered otherwise: square (i, j) lies at (50 - 10 j, 50 - 10 i)
	if why != "" {
		t.Fatal(why)
	}
	l := Lay{Picture: look.Picture{WidthPx: 1000, HeightPx: 900, Plane: jacket, From: [6]float64{0.1, 0.02, -50, -0.02, 0.1, -45}}}
	over, rim, err := Over(a, 8, b, l)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range [][2]float64{{0, 0}, {999, 0}, {300, 700}, {999, 899}} {
		u, v := l.Picture.Source(p[0], p[1])
		i, j := (50-v)/10, (50-u)/10 // in squares of the jacket's photo
		wantU, wantV := -50+10*i, -50+10*j
		if gu, gv := over.Source(p[0], p[1]); math.Hypot(gu-wantU, gv-wantV) > 1e-6 {
			t.Errorf("px %v shows (%g, %g) cm of the exposed bone, want (%g, %g)", p, gu, gv, wantU, wantV)
		}
	}
	if over.Plane != exposed || over.BelowCm != 8 || over.WidthPx != 1000 || over.HeightPx != 900 || len(rim) != 4 {
		t.Errorf("%+v, %v", over, rim)
	}
	for k, c := range exposed.Corners {
		if gu, gv := over.Source(rim[k][0], rim[k][1]); math.Hypot(gu-c[0], gv-c[1]) > 1e-6 {
			t.Errorf("the rim's corner %d shows (%g, %g), want %v", k, gu, gv, c)
		}
	}
	blind := *exposed
	blind.Camera.Focal35Mm = 0
	a.plane = &blind
	if _, _, err := Over(a, 8, b, l); err == nil {
		t.Error("laid over without the focal length")
	}
	o := Outline{Points: []calibrate.Point{at(2000, 1500), at(2100, 1500), at(2100, 1600)}}
	if _, ok := Under(o, a, 8, b, l); ok {
		t.Error("an outline is brought over without the focal length")
	}
	a.plane = exposed
	if _, ok := Under(Outline{Points: o.Points[:2]}, a, 8, b, l); ok {
		t.Error("an outline of two points is drawn")
	}
	own := 0.0
	line, ok := Under(Outline{Points: o.Points, LevelCm: &own}, a, 8, b, l)
	level, _ := exposed.At(0)
	u, v, _ := level.Cm(o.Points[1])
	if x, y := l.OfPlane(b.at(a.of(u, v))); !ok || math.Hypot(line.Through[1][0]-x, line.Through[1][1]-y) > 1e-6 {
		t.Errorf("at its own level: %v, want (%g, %g)", line.Through, x, y)
	}
	if line, ok := Own(Outline{Name: "femur", Points: o.Points}, flat()); !ok || line.Text != "femur" || line.Through[2] != [2]float64{2100, 1600} {
		t.Errorf("on its own plate: %+v, %t", line, ok)
	}
	if _, ok := Own(Outline{Points: o.Points[:2]}, flat()); ok {
		t.Error("an outline of two points is drawn on its own plate")
	}
}
