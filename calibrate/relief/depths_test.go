package relief

import (
	"encoding/json"
	"math"
	"reflect"
	"testing"

	"fieldjacket/calibrate"
)

// laidOut is a camera 150 cm above a plane that falls from 8 to 12 cm, every node of which was measured.
func laidOut() *Depths {
	d := &Depths{Photos: 3, PitchCm: 10, Columns: 10, Rows: 10}
	d.View.Camera = [viewSize]float64{0.02, -0.03, 0.4, 45, 52, -150, 2900, -0.01, 2010, 1490}
	for i, u := range []float64{1e-4, 1e-4, 1e-4, 0.1, 0.1, 0.1, 10, 0.002, 3, 3, 0.05} {
		d.View.Covariance[i*(i+1)/2+i] = u * u
	}
	n := &d.Nodes
	n.OriginCm, n.SpacingCm, n.Columns, n.Rows = [2]float64{-2, -2}, 1, 105, 105
	for range n.Rows {
		for c := range n.Columns {
			u, _ := n.PlaceCm(c, 0)
			n.BelowCm, n.UBelowCm = append(n.BelowCm, 8+0.04*u), append(n.UBelowCm, 0.2)
		}
	}
	for r := range 10 {
		for c := range 10 {
			d.Squares = append(d.Squares, Square{Column: c, Row: r, BelowCm: 8.2 + 0.4*float64(c), UBelowCm: 0.3, Share: 1})
		}
	}
	return d
}

func TestSegmentIsMeasuredOnTheGroundUnderIt(t *testing.T) {
	d := laidOut()
	a, ok1 := d.Photo(20, 30, 8.8)
	b, ok2 := d.Photo(60, 55, 10.4)
	if !ok1 || !ok2 {
		t.Fatal("behind the camera")
	}
	s, ok := d.UnderSegment(a, b, 0)
	want := math.Sqrt(40*40 + 25*25 + 1.6*1.6)
	if !ok || math.Abs(s.LengthCm.Value-want) > 0.01 || math.Abs(s.BelowCm.Value-9.6) > 0.01 {
		t.Errorf("%+v, %v: want %.3f cm at 9.6 cm", s, ok, want)
	}
	if s.LengthCm.U < 0.2 || s.LengthCm.U > 0.6 || s.BelowCm.U < 2*uLineCm || s.BelowCm.U > 2*uLineCm+0.1 {
		t.Errorf("U %+v", s)
	}
	if picked, _ := d.UnderSegment(a, b, 2); picked.LengthCm.U <= s.LengthCm.U {
		t.Errorf("picked to 2 px: U %g, exact %g", picked.LengthCm.U, s.LengthCm.U)
	}
	if q, ok := d.UnderPoint(a); !ok || math.Abs(q.Value-8.8) > 0.05 {
		t.Errorf("under the first end: %v, %v", q, ok)
	}
	for i := range d.Nodes.UBelowCm { // nothing but the first fifth of the line
		if c := i % d.Nodes.Columns; c > 30 {
			d.Nodes.UBelowCm[i] = 0
		}
	}
	if s, ok := d.UnderSegment(a, b, 0); ok {
		t.Errorf("a line known in its first quarter alone: %+v", s)
	}
}

// TestBoneIsNotDrawnDownByTheGroundBeside: half the nodes near a line lie on the ground 5 cm below the crest.
func TestBoneIsNotDrawnDownByTheGroundBeside(t *testing.T) {
	var near []onLine
	for i := range 60 {
		n := onLine{float64(i) / 59, 7 + 0.02*float64(i%3)}
		if i%3 == 0 {
			n.below = 12
		}
		near = append(near, n)
	}
	at0, at1, _, ok := robustLine(near)
	if !ok || math.Abs(at0-7) > 0.1 || math.Abs(at1-7) > 0.1 {
		t.Errorf("%g to %g, %v: want 7", at0, at1, ok)
	}
}

// TestEndsStandAboveTheShaft: a bone's ends 1 cm above its shaft, and at one of them ground that lies deeper beside it.
func TestEndsStandAboveTheShaft(t *testing.T) {
	var near []onLine
	for i := range 81 { // a line of 40 cm
		n := onLine{float64(i) / 80, 8}
		if i <= 8 || i >= 72 {
			n.below = 7
		}
		if i >= 79 {
			n.below = 12
		}
		near = append(near, n)
	}
	if got := shallowerEnds(near, 40, [2]float64{8, 8}); got != [2]float64{7, 7} {
		t.Errorf("ends at %v, want 7", got)
	}
	if got := shallowerEnds(near, 40, [2]float64{6, 6}); got != [2]float64{6, 6} {
		t.Errorf("ends at %v: the ground beside drew a line down", got)
	}
}

func TestDepthsAreKeptAsJSON(t *testing.T) {
	d := laidOut()
	d.Nodes.UBelowCm[7] = 0
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	var back Depths
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(&back, d) {
		t.Errorf("%v: read back %.200s", err, text)
	}
	if _, _, ok := back.Nodes.At(7, 0); ok {
		t.Error("a node that was not measured has a depth")
	}
}

func TestTurnTakesAPhotosStringsOver(t *testing.T) {
	for quarter, want := range [][2]float64{{20, 10}, {-10, 20}, {-20, -10}, {10, -20}} {
		u, v := Turn{Quarter: quarter, ShiftCm: [2]float64{100, 50}}.Cm(20, 10)
		if u != want[0]+100 || v != want[1]+50 {
			t.Errorf("quarter %d: (%g, %g)", quarter, u, v)
		}
	}
}

func TestCameraComesBackFromTheGround(t *testing.T) {
	c := CameraOf(laidOut().View.Camera)
	for _, p := range []calibrate.Point{{XPx: 10, YPx: 20}, {XPx: 2000, YPx: 1500}, {XPx: 4000, YPx: 100}} {
		u, v, ok := c.Ground(p, 9)
		back, ok2 := c.Photo(u, v, 9)
		if !ok || !ok2 || math.Hypot(back.XPx-p.XPx, back.YPx-p.YPx) > 1e-6 {
			t.Errorf("%v goes to (%g, %g) and back to %v", p, u, v, back)
		}
	}
}
