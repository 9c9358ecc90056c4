package stringgrid

import (
	"testing"

	"fieldjacket/calibrate"
)

// family draws lines one way only, as lines does both.
func (d *drawing) family(n int, pitch, x0, y0 float64, along bool, paint func(c int, was uint8) float64) {
	d.strings(pitch, x0, y0, paint, func(u, v float64) (bool, bool) {
		inside := u > -0.5 && v > -0.5 && u < float64(n)-0.5 && v < float64(n)-0.5
		return inside && along, inside && !along
	})
}

// What the picture shows must not be read as a whole grid: one family of
// strings alone, one family with every second string gone, two grids of
// different pitch in one picture.
func TestFindGridRefusesPartsAndRivals(t *testing.T) {
	for _, c := range []struct {
		name string
		draw func(d *drawing)
	}{
		{"one family alone", func(d *drawing) { d.family(8, 130, 300, 150, true, white) }},
		{"every second string of one family gone", func(d *drawing) {
			d.strings(130, 300, 150, white, func(u, v float64) (bool, bool) {
				inside := u > -0.02 && v > -0.02 && u < 7.02 && v < 7.02
				return inside, inside && int(v+0.5)%2 == 0
			})
		}},
		{"two grids side by side", func(d *drawing) {
			d.strings(100, 150, 50, white, func(u, v float64) (bool, bool) {
				inside := u > -0.02 && v > -0.02 && u < 6.02 && v < 9.02
				return inside, inside
			})
			d.strings(137, 850, 180, white, func(u, v float64) (bool, bool) {
				inside := u > -0.02 && v > -0.02 && u < 5.02 && v < 6.02
				return inside, inside
			})
		}},
	} {
		d := newDrawing(1)
		c.draw(d)
		found, ref, camera := d.find(t)
		if found.Refused != nil {
			continue
		}
		if p, err := calibrate.FitGrid(ref, camera, found.Marks); err == nil {
			t.Errorf("%s: counted %s, k1 %.3f", c.name, found.Counted, p.K1)
		}
	}
}

// Lines in step with the strings beyond the frame, where no string that crosses
// them comes, are shadows or something else: they are not counted.
func TestFindCountsNoLinesBeyondTheFrame(t *testing.T) {
	d := newDrawing(6)
	d.strings(90, 400, 150, white, func(u, v float64) (bool, bool) {
		between := v > -0.02 && v < 6.02
		return between && u > -0.02 && u < 10.02, between && u > -0.02 && u < 6.02
	})
	found, _, _ := d.find(t)
	if found.Refused != nil {
		t.Fatal(found.Refused)
	}
	if found.Counted != "6 x 6 squares (7 and 7 strings counted)" {
		t.Errorf("counted %s, want 7 x 7", found.Counted)
	}
}
