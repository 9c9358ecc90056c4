package stringgrid

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// cord draws a line between two places, soft at its rims.
func (d *drawing) cord(a, b [2]float64, widePx, light float64) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	long := math.Hypot(dx, dy)
	for y := max(0, int(min(a[1], b[1])-widePx)-1); y <= min(d.height-1, int(max(a[1], b[1])+widePx)+1); y++ {
		for x := max(0, int(min(a[0], b[0])-widePx)-1); x <= min(d.width-1, int(max(a[0], b[0])+widePx)+1); x++ {
			px, py := float64(x)-a[0], float64(y)-a[1]
			along := max(0, min(long, (px*dx+py*dy)/long))
			off := math.Hypot(px-along*dx/long, py-along*dy/long)
			cover := max(0, min(1, widePx/2+0.5-off))
			for c := range 3 {
				p := &d.pixels[3*(y*d.width+x)+c]
				*p = uint8((1-cover)*float64(*p) + cover*light)
			}
		}
	}
}

// A frameDrawing is a small frame of thin cords, seen squarely: their numbers,
// where its first crossing lies, and how far each end of a cord may lie off its
// place, in cells.
type frameDrawing struct {
	across, down int
	x, y, cellPx float64
	loose        float64
	only         int  // 1: one family alone; 0: both
	tube         bool // round it, half a cell off
	faint        bool // cords hardly lighter than the lighter stones
}

// at is a place on it, in cells.
func (f frameDrawing) at(u, v float64) [2]float64 {
	sin, cos := math.Sincos(0.35)
	return [2]float64{f.x + f.cellPx*(cos*u-sin*v), f.y + f.cellPx*(sin*u+cos*v)}
}

func (f frameDrawing) draw(d *drawing) {
	rng := rand.New(rand.NewPCG(5, 5))
	off := func() float64 { return f.loose * (2*rng.Float64() - 1) }
	light, wide := 230.0, 2.5
	if f.faint {
		light, wide = 165, 1.6
	}
	right, low := float64(f.across-1)+0.5, float64(f.down-1)+0.5
	for i := range f.across {
		a, b := float64(i)+off(), float64(i)+off()
		d.cord(f.at(a, -0.5), f.at(b, low), wide, light)
	}
	for i := range f.down {
		a, b := float64(i)+off(), float64(i)+off()
		if f.only == 0 {
			d.cord(f.at(-0.5, a), f.at(right, b), wide, light)
		}
	}
	if !f.tube {
		return
	}
	corners := [4][2]float64{f.at(-0.5, -0.5), f.at(right, -0.5), f.at(right, low), f.at(-0.5, low)}
	for i, c := range corners {
		d.cord(c, corners[(i+1)%4], 12, 235)
	}
}

// Cords off their places by up to a tenth of a cell, in a frame that takes a
// fifth of the picture's width, are found where they are, and no part of the
// tube about them counts as one.
func TestFindUnevenStringsInASmallFrame(t *testing.T) {
	d := newDrawing(7)
	frame := frameDrawing{across: 7, down: 6, x: 900, y: 500, cellPx: 44, loose: 0.1, tube: true}
	frame.draw(d)
	found, ref, camera := d.find(t)
	if found.Refused != nil {
		t.Fatal(found.Refused)
	}
	if found.Counted != "6 x 5 squares (7 and 6 strings counted)" && found.Counted != "5 x 6 squares (6 and 7 strings counted)" {
		t.Errorf("counted %s, want 7 x 6", found.Counted)
	}
	plane, err := calibrate.FitGrid(ref, camera, found.Marks)
	if err != nil {
		t.Fatal(err)
	}
	a, b, c := frame.at(0, 0), frame.at(1, 0), frame.at(0, 1) // clockwise in the picture
	level, _ := plane.At(0)
	var u, v [3]float64
	for i, p := range [][2]float64{a, b, c} {
		if u[i], v[i], err = level.Cm(calibrate.Point{XPx: p[0], YPx: p[1]}); err != nil {
			t.Fatal(err)
		}
	}
	if (u[1]-u[0])*(v[2]-v[0])-(v[1]-v[0])*(u[2]-u[0]) <= 0 {
		t.Error("the strings are read as in a mirror")
	}
	for _, ends := range [][4]float64{{0, 0, 6, 0}, {0, 0, 0, 5}, {0, 0, 6, 5}, {6, 0, 0, 5}} {
		a, b := frame.at(ends[0], ends[1]), frame.at(ends[2], ends[3])
		want := ref.PitchCm * math.Hypot(ends[2]-ends[0], ends[3]-ends[1])
		q, err := level.LengthCm(calibrate.Point{XPx: a[0], YPx: a[1]}, calibrate.Point{XPx: b[0], YPx: b[1]})
		if err != nil || math.Abs(q.Value-want) > q.U || q.U > 0.05*want {
			t.Errorf("%.1f cm measure %.2f ± %.2f (%v)", want, q.Value, q.U, err)
		}
	}
}

// What lies in step with strings is no grid without those that cross them.
func TestFindNoGridInOneFamilyOfCords(t *testing.T) {
	d := newDrawing(8)
	frameDrawing{across: 9, down: 6, x: 700, y: 400, cellPx: 44, loose: 0.05, only: 1, tube: true}.draw(d)
	if found, _, _ := d.find(t); found.Refused == nil {
		t.Errorf("counted %s", found.Counted)
	}
}

// Corners put by hand a few pixels off find cords that are off their places.
func TestRefineSnapsToUnevenStrings(t *testing.T) {
	d := newDrawing(9)
	frame := frameDrawing{across: 7, down: 6, x: 700, y: 300, cellPx: 40, loose: 0.14, tube: true, faint: true}
	frame.draw(d)
	p := d.photo()
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10, CellsAcross: 6, CellsDown: 5}
	var corners [4]calibrate.Point
	for i, c := range [4][2]float64{{0, 0}, {6, 0}, {6, 5}, {0, 5}} {
		at := frame.at(c[0], c[1])
		corners[i] = calibrate.Point{XPx: at[0] + float64(4*(i%2)) - 2, YPx: at[1] + float64(4*(i/2)) - 2}
	}
	rough, err := calibrate.FitCorners(ref, p.Camera, corners, 8)
	if err != nil {
		t.Fatal(err)
	}
	cells := *rough
	for row := range 3 {
		cells.Homography[3*row] *= ref.PitchCm
		cells.Homography[3*row+1] *= ref.PitchCm
	}
	found := Refine(p, ref, &cells)
	if found.Refused != nil {
		t.Fatal(found.Refused)
	}
	if found.Counted != "6 x 5 squares (7 and 6 strings counted)" {
		t.Errorf("counted %s, want 7 x 6", found.Counted)
	}
	plane, err := calibrate.FitGrid(ref.Uncounted(), p.Camera, found.Marks)
	if err != nil {
		t.Fatal(err)
	}
	level, _ := plane.At(0)
	a, b := frame.at(0, 0), frame.at(6, 5)
	want := 10 * math.Hypot(6, 5)
	q, err := level.LengthCm(calibrate.Point{XPx: a[0], YPx: a[1]}, calibrate.Point{XPx: b[0], YPx: b[1]})
	if err != nil || math.Abs(q.Value-want) > q.U || q.U > 0.04*want {
		t.Errorf("%.1f cm measure %.2f ± %.2f (%v)", want, q.Value, q.U, err)
	}
}

// Of two small frames with cells of two sizes nothing tells which is meant.
func TestFindNamesTwoFramesOfUnlikePitch(t *testing.T) {
	d := newDrawing(10)
	frameDrawing{across: 6, down: 6, x: 200, y: 300, cellPx: 44, loose: 0.08, tube: true}.draw(d)
	frameDrawing{across: 6, down: 6, x: 900, y: 350, cellPx: 62, loose: 0.08, tube: true}.draw(d)
	found, _, _ := d.find(t)
	if found.Refused == nil || !strings.Contains(found.Refused.Reason, "two grids") {
		t.Errorf("counted %s, %v, want a refusal that names two grids", found.Counted, found.Refused)
	}
}

// Two frames alike give one another their size: one of them is taken.
func TestFindTakesOneOfTwoFramesAlike(t *testing.T) {
	d := newDrawing(11)
	frameDrawing{across: 6, down: 6, x: 250, y: 300, cellPx: 48, loose: 0.06, tube: true}.draw(d)
	frameDrawing{across: 6, down: 6, x: 700, y: 350, cellPx: 48, loose: 0.06, tube: true}.draw(d)
	if found, _, _ := d.find(t); found.Refused != nil || found.Counted != "5 x 5 squares (6 and 6 strings counted)" {
		t.Errorf("counted %s, %v, want 6 x 6 strings", found.Counted, found.Refused)
	}
}
