package overlay

import (
	"bytes"
	"image"
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate/look"
)

// found is an invented overlay: a plane with its lines, numbers, marks in and
// out, a considered line and a measured length.
func found() look.Overlay {
	o := look.Overlay{
		Picture: look.Picture{WidthPx: 900, HeightPx: 600},
		Heading: "tk/IMG_0412.JPG",
		Texts: []string{
			"grid 10cm: 12.31 ± 0.05 px/cm (k = 2) in its middle, tilt 8°; 11 of 12 marks carry the fit, rms 0.41 px, the farthest 0.80 px off",
			"bar 10cm/1cm: NOT SCALED: bar 10cm/1cm: only 4 blocks in a row found, need 5",
		},
	}
	for i := range 4 {
		x, y := 150+150*float64(i), 100+120*float64(i)
		o.Curves = append(o.Curves,
			look.Curve{Stroke: look.StrokePlane, Through: [][2]float64{{x, 20}, {x + 10, 300}, {x, 580}}},
			look.Curve{Stroke: look.StrokeFirst, Through: [][2]float64{{x, 90}, {x + 6, 300}, {x, 480}}, Name: string(rune('1' + i))},
			look.Curve{Stroke: look.StrokeSecond, Through: [][2]float64{{140, y}, {620, y + 8}}, Name: string(rune('1' + i))})
		for k := range 3 {
			at := [2]float64{x + 4, 160 + 100*float64(k)}
			o.Spots = append(o.Spots, look.Spot{At: at, From: at, Tip: [2]float64{at[0] + 14, at[1] - 9}, Used: i+k != 4})
		}
	}
	o.Curves = append(o.Curves,
		look.Curve{Stroke: look.StrokeConsidered, Through: [][2]float64{{680, 120}, {860, 180}}},
		look.Curve{Stroke: look.StrokeMeasured, Through: [][2]float64{{660, 500}, {880, 420}}},
		look.Curve{Stroke: look.StrokeFirst, Through: [][2]float64{{-300, 9000}}, Name: "12"}) // its number is kept within the picture
	return o
}

// foundOn is the canvas of an overlay.
func foundOn(o look.Overlay, ground string) *image.RGBA {
	l := ArrangeFound(o)
	return onGround(l.Size, l.Picture, ground)
}

// TestFound holds whole overlays on three grounds.
func TestFound(t *testing.T) {
	for ground := range grounds {
		t.Run(ground, func(t *testing.T) {
			canvas := foundOn(found(), ground)
			if err := DrawFound(canvas, found()); err != nil {
				t.Fatal(err)
			}
			golden(t, "found_"+ground, canvas)
			again := foundOn(found(), ground)
			if err := DrawFound(again, found()); err != nil || !bytes.Equal(again.Pix, canvas.Pix) {
				t.Errorf("drawn twice, the bytes differ (%v)", err)
			}
		})
	}
}

// TestFoundStaysWithinItsPicture: lines that run out of the picture leave the
// words beside it alone.
func TestFoundStaysWithinItsPicture(t *testing.T) {
	o := found()
	plain := o
	plain.Curves, plain.Spots = nil, nil
	o.Curves = append(o.Curves, look.Curve{Stroke: look.StrokeMeasured, Through: [][2]float64{{-5000, -5000}, {5000, 5000}}})
	with, without := foundOn(o, "light"), foundOn(plain, "light")
	if err := DrawFound(with, o); err != nil {
		t.Fatal(err)
	}
	if err := DrawFound(without, plain); err != nil {
		t.Fatal(err)
	}
	in := ArrangeFound(o).Picture
	changed := false
	for y := range with.Rect.Dy() {
		for x := range with.Rect.Dx() {
			differs := with.RGBAAt(x, y) != without.RGBAAt(x, y)
			if differs && !image.Pt(x, y).In(in) {
				t.Fatalf("a line shows at (%d, %d), outside the picture %v", x, y, in)
			}
			changed = changed || differs
		}
	}
	if !changed {
		t.Error("nothing was drawn")
	}
}

func TestFoundRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*look.Overlay)
		want   string
	}{
		"stroke": {func(o *look.Overlay) { o.Curves[0].Stroke = "dotted" }, "no such stroke"},
		"curve":  {func(o *look.Overlay) { o.Curves[0].Through[1][0] = math.NaN() }, "finite"},
		"spot":   {func(o *look.Overlay) { o.Spots[0].Tip[1] = math.Inf(1) }, "finite"},
		"letter": {func(o *look.Overlay) { o.Texts[0] = "化" }, "U+5316"},
	} {
		o := found()
		c.change(&o)
		if err := DrawFound(foundOn(o, "light"), o); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want an error with %q", name, err, c.want)
		}
	}
	if err := DrawFound(image.NewRGBA(image.Rect(0, 0, 50, 50)), found()); err == nil || !strings.Contains(err.Error(), "canvas is") {
		t.Errorf("a canvas of another size: %v", err)
	}
}
