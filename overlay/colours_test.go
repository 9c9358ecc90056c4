package overlay

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fieldjacket/calibrate/look"
)

// deuteranope is how a colour looks to who lacks the middle cones: Machado, Oliveira and Fernandes, "A physiologically-based
// model for simulation of color vision deficiency", IEEE TVCG 15(6), 2009, p. 1291, severity 1.0, on linear sRGB. Rows give R, G, B.
var deuteranope = [3][3]float64{
	{0.367322, 0.860646, -0.227968},
	{0.280085, 0.672501, 0.047413},
	{-0.011820, 0.042940, 0.968881},
}

func linear(c color.RGBA) (rgb [3]float64) {
	for i, v := range []uint8{c.R, c.G, c.B} {
		if u := float64(v) / 255; u <= 0.04045 { // IEC 61966-2-1
			rgb[i] = u / 12.92
		} else {
			rgb[i] = math.Pow((u+0.055)/1.055, 2.4)
		}
	}
	return rgb
}

func times(m [3][3]float64, v [3]float64) (w [3]float64) {
	for i := range m {
		for k := range v {
			w[i] += m[i][k] * v[k]
		}
	}
	return w
}

// lab is CIE 1976 L*a*b* under D65 of linear sRGB (CIE 15; the matrix of IEC 61966-2-1).
func lab(rgb [3]float64) [3]float64 {
	for i := range rgb {
		rgb[i] = min(max(rgb[i], 0), 1)
	}
	xyz := times([3][3]float64{{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}}, rgb)
	var f [3]float64
	for i, white := range []float64{0.9505, 1, 1.089} {
		if t := xyz[i] / white; t > 216.0/24389 {
			f[i] = math.Cbrt(t)
		} else {
			f[i] = (24389.0/27*t + 16) / 116
		}
	}
	return [3]float64{116*f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])}
}

// asSeen is the distance of two colours to a deuteranope, in units of L*.
func asSeen(a, b color.RGBA) float64 {
	p, q := lab(times(deuteranope, linear(a))), lab(times(deuteranope, linear(b)))
	return math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2])
}

// Where colour carries meaning a deuteranope still tells it: ten times a just noticeable difference (about 2.3, Mahy and
// others, Color Research and Application 19, 1994, p. 105; from memory) between the strokes, and between marks used and not.
func TestColoursForDeuteranopes(t *testing.T) {
	const least = 23
	named := map[string]color.RGBA{"used": usedColour, "out": outColour, "pointer": pointerColour}
	for s, name := range map[look.Stroke]string{look.StrokeFirst: "first", look.StrokeSecond: "second", look.StrokeConsidered: "considered", look.StrokeMeasured: "measured", look.StrokePlane: "plane"} {
		named[name] = strokes[s].c
	}
	for _, pair := range [][2]string{{"first", "second"}, {"first", "considered"}, {"second", "considered"}, {"first", "measured"}, {"second", "measured"},
		{"considered", "measured"}, {"plane", "measured"}, {"plane", "first"}, {"plane", "second"}, {"plane", "considered"}, {"used", "out"}, {"used", "first"}, {"used", "second"}, {"used", "plane"}, {"used", "measured"}, {"out", "second"}, {"pointer", "used"}, {"pointer", "out"}, {"pointer", "first"}, {"pointer", "second"}} {
		got := asSeen(named[pair[0]], named[pair[1]])
		t.Logf("%s, %s: %.0f", pair[0], pair[1], got)
		if got < least {
			t.Errorf("%s and %s are %.1f apart, want %d", pair[0], pair[1], got, least)
		}
	}
	// The measure itself: a red and a green of one lightness, far apart to most, are one colour here.
	if got := asSeen(color.RGBA{R: 200, G: 90, B: 60, A: 255}, color.RGBA{R: 130, G: 130, B: 55, A: 255}); got >= least {
		t.Errorf("red and green are %.1f apart: the measure is blind", got)
	}
}

// As drawn, thin and aslant on every ground, each stroke still looks most like its own colour to a deuteranope along nearly all of it.
func TestStrokesKeepTheirColours(t *testing.T) {
	lines := []look.Stroke{look.StrokeFirst, look.StrokeSecond, look.StrokeConsidered, look.StrokeMeasured, look.StrokePlane}
	for ground := range grounds {
		for _, s := range lines {
			o := look.Overlay{Picture: look.Picture{WidthPx: 900, HeightPx: 600}, Curves: []look.Curve{{Stroke: s, Through: [][2]float64{{50, 100}, {850, 330}}}}}
			canvas := foundOn(o, ground)
			if err := DrawFound(canvas, o); err != nil {
				t.Fatal(err)
			}
			corner, own := ArrangeFound(o).Picture.Min, 0
			const places = 200
			for i := range places {
				x, y := 52+float64(i)*796/places, 100+(2+float64(i)*796/places)*230/800
				nearest, least := look.Stroke(""), math.Inf(1)
				for dy := -1; dy <= 1; dy++ { // the pixel of the line's middle, not of its edge
					for _, other := range lines {
						if d := asSeen(canvas.RGBAAt(corner.X+int(x+0.5), corner.Y+int(y+0.5)+dy), strokes[other].c); d < least {
							nearest, least = other, d
						}
					}
				}
				if nearest == s {
					own++
				}
			}
			t.Logf("%s on %s: %d of %d", s, ground, own, places)
			if own < 95*places/100 {
				t.Errorf("on %s the stroke %s looks like itself in %d of %d places", ground, s, own, places)
			}
		}
	}
}

// A plate means nothing by colour: on grey ground all that is drawn is grey.
func TestPlatesNeedNoColour(t *testing.T) {
	p := scaledPlate()
	p.Lines = []look.Line{{Through: [][2]float64{{160, 300}, {500, 220}, {830, 240}}, Text: "bone here: femur"}}
	p.Stamp = "AS SEEN FROM FIELD BOTTOM, MIRRORED"
	l := Arrange(p)
	canvas := onGround(l.Size, image.Rectangle{}, "light")
	for i := range canvas.Pix {
		canvas.Pix[i] = 150
	}
	if err := Draw(canvas, p); err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(canvas.Pix); i += 4 {
		if c := canvas.Pix[i : i+3]; c[0] != c[1] || c[1] != c[2] {
			t.Fatalf("pixel (%d, %d) is %v", i/4%l.Size.X, i/4/l.Size.X, c)
		}
	}
}
