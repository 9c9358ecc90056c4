package layout

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/truth"
)

// TestPlateShowsTheWholePhoto: no corner or edge of a photo is cut off by its plate up to a tilt of 40 degrees, whichever side it was taken
// from and however the phone was turned; beyond, where a corner may look to the horizon, the plate stays within its bounds, keeps the
// measured area whole and fine, and says what is left out.
func TestPlateShowsTheWholePhoto(t *testing.T) {
	for _, focal := range []float64{24, 28} {
		for _, tilt := range []float64{0, 20, 40, 45, 60, 64} {
			for i, roll := range []float64{0, 30, 45, 53, 90, 200} { // at 53 the photo's diagonal runs the way of the tilt
				l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: focal, K1: -0.02, DistanceCm: 220, TiltDeg: tilt, HeadingDeg: 2 * roll, RollDeg: roll}, 3*i%8)
				p, ok := Scaled(l.Plane, Want{Whole: true})
				if !ok {
					t.Fatal("no plate")
				}
				lay := figure.Lay{Picture: p}
				off := 0 // places on the photo's rim that the plate lacks
				for i := range 400 {
					s := float64(i%100) / 100
					at := [4][2]float64{{s, 0}, {1, s}, {1 - s, 1}, {0, 1 - s}}[i/100]
					x, y, ok := lay.Plate(calibrate.Point{XPx: 3999 * at[0], YPx: 2999 * at[1]})
					if !ok || x < -2 || y < -2 || x > float64(p.WidthPx)+1 || y > float64(p.HeightPx)+1 {
						off++
					}
				}
				name := fmt.Sprintf("%g mm, tilt %g, roll %g", focal, tilt, roll)
				text := figure.OutlineText(lay)
				if whole := off == 0; !whole && tilt <= 40 || whole && tilt >= 60 {
					t.Errorf("%s: %d of 400 places on the rim are cut off", name, off)
				}
				if says := strings.Contains(text, "Not on this plate"); says != (off > 0) {
					t.Errorf("%s: %d of 400 places on the rim are cut off, and the plate says %q", name, off, text)
				}
				if !strings.Contains(text, "at the picture's edge up to ±") {
					t.Errorf("%s: nothing on the uncertainty outside: %q", name, text)
				}
				level, _ := l.Plane.At(0)
				middle, _ := level.ScalePxPerCm(l.Plane.MiddleCm())
				if long := max(p.WidthPx, p.HeightPx); long > steepPx || p.PxPerCm < 0.2*middle.Value {
					t.Errorf("%s: the plate is %d px long at %g px/cm, where the photo has %.1f", name, long, p.PxPerCm, middle.Value)
				}
				for _, c := range l.Plane.Corners {
					if x, y := lay.OfPlane(c[0], c[1]); !lay.Inside(x, y) {
						t.Errorf("%s: the measured area runs out of the plate, to (%.0f, %.0f)", name, x, y)
					}
				}
				said := 0.0
				if i := strings.Index(text, "on this plate: "); i > 0 {
					if _, err := fmt.Sscanf(text[i:], "on this plate: %f %%", &said); err != nil {
						t.Fatal(text, err)
					}
				}
				out := 0
				const fine = 200
				for i := range fine * fine {
					x, y, ok := lay.Plate(calibrate.Point{XPx: 4000*(float64(i%fine)+0.5)/fine - 0.5, YPx: 3000*(float64(i/fine)+0.5)/fine - 0.5})
					if !ok || !lay.Inside(x, y) {
						out++
					}
				}
				if share := 100 * float64(out) / (fine * fine); math.Abs(share-said) > 2.5 { // it counts the rim itself too
					t.Errorf("%s: %.1f %% of the photo are cut off, the plate says %g %%", name, share, said)
				}
				if roll == 53 {
					t.Logf("%s: %d x %d px at %g of %.1f px/cm: %s", name, p.WidthPx, p.HeightPx, p.PxPerCm, middle.Value, text)
				}
			}
		}
	}
}

// TestUncertaintyOutsideIsStated: at the rim of a photo a length of 10 cm misses the truth by no more than the plate says there, nor is
// that idle: it is more than within the measured area.
func TestUncertaintyOutsideIsStated(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, K1: -0.01, DistanceCm: 300, TiltDeg: 30}, 0)
	p, _ := Scaled(l.Plane, Want{Whole: true})
	text := figure.OutlineText(figure.Lay{Picture: p})
	var stated float64
	if _, err := fmt.Sscanf(text[strings.Index(text, "±"):], "± %f", &stated); err != nil {
		t.Fatal(text, err)
	}
	level, _ := l.Plane.At(0)
	worst := 0.0
	for i := range 40 {
		s := float64(i%10) / 10
		at := [4][2]float64{{s, 0}, {1, s}, {1 - s, 1}, {0, 1 - s}}[i/10]
		u, v, ok := l.Truth.Cm(calibrate.Point{XPx: 100 + 3800*at[0], YPx: 100 + 2800*at[1]}, 0)
		if !ok {
			continue
		}
		a, b := l.Photo(t, u-5, v), l.Photo(t, u+5, v)
		q, err := level.LengthCm(a, b)
		if err != nil {
			t.Fatal(err)
		}
		worst = max(worst, 100*math.Abs(q.Value-10)/10)
	}
	inside, err := level.LengthCm(l.Photo(t, -5, 0), l.Photo(t, 5, 0))
	if err != nil {
		t.Fatal(err)
	}
	if within := 100 * inside.U / inside.Value; worst > stated || stated <= within {
		t.Errorf("misses by %.2f %% at the rim, U is %.2f %% in the middle; stated %q", worst, within, text)
	}
}
