package overlay

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fieldjacket/calibrate/look"
)

// ground is a canvas of nothing else.
func ground(name string, w, h int) *image.RGBA {
	return onGround(image.Pt(w, h), image.Rect(0, 0, w, h), name)
}

// TestElements holds the bar, the double line and the ring on each ground.
func TestElements(t *testing.T) {
	for name := range grounds {
		t.Run(name, func(t *testing.T) {
			canvas := ground(name, 500, 220)
			d := newPen(canvas, 8)
			d.bar(look.Bar{BlockCm: 2, Blocks: 5, PxPerCm: 30}, 6, 5)
			d.doubleLine([][2]float64{{8, 14}, {30, 17}, {26, 25}, {9, 22}}, true)
			d.leader(leader{word: [2]float64{480, 200}, edge: [2]float64{450, 200}, place: [2]float64{330, 160}, inside: true}, d, [2]float64{})
			golden(t, "elements_"+name, canvas)
		})
	}
}

// The bar is as long as it says, to a tenth of a pixel, at lengths that are no whole pixels; and white lies between its
// black and any ground.
func TestBarIsAsLongAsItSays(t *testing.T) {
	for name := range grounds {
		for _, bar := range []look.Bar{
			{BlockCm: 2, Blocks: 5, PxPerCm: 30}, {BlockCm: 2, Blocks: 5, PxPerCm: 29.37}, {BlockCm: 5, Blocks: 4, PxPerCm: 11.111},
			{BlockCm: 0.1, Blocks: 5, PxPerCm: 613.3},
		} {
			canvas := ground(name, 500, 120)
			d := newPen(canvas, 10)
			d.bar(bar, 5, 5)
			// Along the middle: the outline's two lines of 3 px, the blocks, the outline again.
			y := int(10 * (5 + barTall/2))
			if got, want := edge(canvas, 50-3, y), 50-3.0; math.Abs(got-want) > 0.1 {
				t.Errorf("%+v on %s: the bar begins at %.2f px, want %.2f", bar, name, got, want)
			}
			if got, want := edge(canvas, int(53+barPx(&bar)), y), 53+barPx(&bar); math.Abs(got-want) > 0.1 {
				t.Errorf("%+v on %s: the bar ends at %.2f px, want %.2f", bar, name, got, want)
			}
			for i := 1; i < bar.Blocks; i++ {
				x := 50 + float64(i)*bar.BlockCm*bar.PxPerCm
				if got := edge(canvas, int(x), y); math.Abs(got-x) > 0.1 {
					t.Errorf("%+v on %s: block %d begins at %.2f px, want %.2f", bar, name, i, got, x)
				}
			}
			if c := canvas.RGBAAt(50-5, y); c != (color.RGBA{R: 255, G: 255, B: 255, A: 255}) {
				t.Errorf("on %s there is no white around the bar: %v", name, c)
			}
		}
	}
}

// edge is where black and white meet near x, from the greys of the pixels there.
func edge(canvas *image.RGBA, x, y int) float64 {
	const by = 2
	dark := 0.0
	for i := x - by; i <= x+by; i++ {
		dark += 1 - float64(canvas.RGBAAt(i, y).R)/255
	}
	if canvas.RGBAAt(x-by, y).R < 128 {
		return float64(x-by) + dark
	}
	return float64(x+by+1) - dark
}

// The N stands where north is: the ink reaches farthest that way.
func TestArrowPointsNorth(t *testing.T) {
	for _, deg := range []float64{0, 45, 90, 180, 225, 270, 359, -90} {
		canvas := image.NewRGBA(image.Rect(0, 0, 400, 400))
		margins(canvas, image.Rectangle{})
		d := newPen(canvas, 10)
		d.north(20, 20, deg)
		sin, cos := math.Sincos(deg * math.Pi / 180)
		ahead, behind := 0.0, 0.0
		for y := range 400 {
			for x := range 400 {
				if canvas.RGBAAt(x, y).R > 128 {
					continue
				}
				along := (float64(x)+0.5-200)*sin - (float64(y)+0.5-200)*cos
				ahead, behind = max(ahead, along), max(behind, -along)
			}
		}
		if ahead < 130 || behind > 110 {
			t.Errorf("%g°: ink reaches %.0f px north and %.0f px south of the middle", deg, ahead, behind)
		}
	}
}

// The line of the measured area runs through the centres of the pixels that the plate names.
func TestOutlineStandsWhereThePlateSays(t *testing.T) {
	p := scaledPlate()
	p.Labels = nil
	p.Outline = [][2]float64{{100, 100}, {500, 100}, {500, 400}, {100, 400}}
	canvas := plateOn(p, "dark")
	if err := Draw(canvas, p); err != nil {
		t.Fatal(err)
	}
	r := Arrange(p).Picture
	// Across the upper side at x = 300: the light band's middle is the line.
	sum, weight := 0.0, 0.0
	for y := 80; y < 120; y++ {
		c := canvas.RGBAAt(r.Min.X+300, r.Min.Y+y)
		if c.R > 60 {
			sum, weight = sum+float64(c.R)*float64(y), weight+float64(c.R)
		}
	}
	if weight == 0 || math.Abs(sum/weight-100) > 0.1 {
		t.Errorf("the upper side is drawn at y = %.2f, want 100", sum/weight)
	}
}
