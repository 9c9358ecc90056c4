package stringgrid

import (
	"math"
	"math/rand/v2"
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
}

// at is a place on it, in cells.
func (f frameDrawing) at(u, v float64) [2]float64 {
	sin, cos := math.Sincos(0.35)
	return [2]float64{f.x + f.cellPx*(cos*u-sin*v), f.y + f.cellPx*(sin*u+cos*v)}
}

func (f frameDrawing) draw(d *drawing) {
	rng := rand.New(rand.NewPCG(5, 5))
	off := func() float64 { return f.loose * (2*rng.Float64() - 1) }
	right, low := float64(f.across-1)+0.5, float64(f.down-1)+0.5
	for i := range f.across {
		a, b := float64(i)+off(), float64(i)+off()
		d.cord(f.at(a, -0.5), f.at(b, low), 2.5, 230)
	}
	for i := range f.down {
		a, b := float64(i)+off(), float64(i)+off()
		if f.only == 0 {
			d.cord(f.at(-0.5, a), f.at(right, b), 2.5, 230)
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
	if found.Counted != "7 x 6 strings" && found.Counted != "6 x 7 strings" {
		t.Errorf("counted %s, want 7 x 6", found.Counted)
	}
	plane, err := calibrate.FitGrid(ref, camera, found.Marks)
	if err != nil {
		t.Fatal(err)
	}
	level, _ := plane.At(0)
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
