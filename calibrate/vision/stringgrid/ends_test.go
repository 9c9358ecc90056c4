package stringgrid

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
)

// board lays a light board along the frame's lines v = from to v = to.
func (f frameDrawing) board(d *drawing, from, to float64) {
	for v := from; v <= to; v += 1 / f.cellPx {
		d.cord(f.at(-1, v), f.at(float64(f.across), v), 2, 185)
	}
}

// Two frames alike, one beyond the other and in step with it, are two: no
// string of the one leads to the other's over the boards between them.
func TestFindCountsOneOfTwoFramesInStep(t *testing.T) {
	for _, beyond := range []float64{2.12, 1.95} {
		d := newDrawing(12)
		frame := frameDrawing{across: 7, down: 7, x: 900, y: 150, cellPx: 44, loose: 0.06}
		frame.draw(d)
		other := frame
		at := frame.at(0, float64(frame.down-1)+beyond)
		other.x, other.y = at[0], at[1]
		other.draw(d)
		frame.board(d, float64(frame.down-1)+0.6, float64(frame.down-1)+beyond-0.6)
		found, _, _ := d.find(t)
		if found.Refused != nil || !strings.HasPrefix(found.Counted, "6 x 6 squares") {
			t.Errorf("%.2f cells apart: counted %s, %v, want the 6 x 6 squares of one frame", beyond, found.Counted, found.Refused)
		}
	}
}

// A grid that goes on beyond the picture has more strings than were counted,
// which is said; one that ends in it has not.
func TestFindSaysWhereThereMayBeMore(t *testing.T) {
	for _, c := range []struct {
		x0, y0 float64
		more   bool
	}{{330, 100, false}, {-200, -300, true}} {
		d := newDrawing(13)
		d.strings(110, c.x0, c.y0, white, func(u, v float64) (bool, bool) {
			inside := u > -0.2 && v > -0.2 && u < 8.2 && v < 8.2
			return inside, inside
		})
		found, _, _ := d.find(t)
		if found.Refused != nil {
			t.Fatal(found.Refused)
		}
		if more := strings.Contains(found.Counted, "or more"); more != c.more {
			t.Errorf("from (%.0f, %.0f): counted %s, more to be said: %t", c.x0, c.y0, found.Counted, c.more)
		}
	}
}

// Light joints of a smooth floor that leave the picture all round look like
// strings that do.
func TestFindRefusesAFloor(t *testing.T) {
	d := newDrawing(14)
	for i := range d.pixels {
		d.pixels[i] = uint8(110 + 2*d.rng.NormFloat64())
	}
	d.strings(130, 300, 150, func(int, uint8) float64 { return 165 }, func(u, v float64) (bool, bool) { return true, true })
	found, ref, camera := d.find(t)
	if found.Refused == nil {
		_, err := calibrate.FitGrid(ref, camera, found.Marks)
		t.Errorf("counted %s, %v", found.Counted, err)
	}
}
