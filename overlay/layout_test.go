package overlay

import (
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate/look"
)

// boxes are the places of all lines of text, in mm.
func boxes(t interface{ Fatal(...any) }, a arranged, p look.Plate) []box {
	var out []box
	add := func(ws []words, x, y float64) {
		for _, w := range ws {
			out = append(out, box{w.text, x + w.x, y + w.y - 0.75*w.em, x + w.x + w.width, y + w.y + 0.22*w.em})
		}
	}
	add(a.head.words, edgeMm, a.headY)
	add(a.foot.words, edgeMm, a.footY)
	for _, side := range []string{"top", "right", "bottom", "left"} {
		set, _, err := a.labels(p.Labels, side)
		if err != nil {
			t.Fatal(err)
		}
		add(set, 0, 0)
	}
	return out
}

type box struct {
	text           string
	x0, y0, x1, y1 float64
}

func (b box) meets(o box) bool {
	const touch = 0.05 // mm
	return min(b.x1, o.x1)-max(b.x0, o.x0) > touch && min(b.y1, o.y1)-max(b.y0, o.y0) > touch
}

// Whatever a plate says, no two lines meet, none lies on the picture or leaves the canvas, and the canvas keeps to a
// sheet as long as the words do.
func TestNothingMeets(t *testing.T) {
	text := rapid.StringMatching(`([A-Za-z0-9±/°.,-]{1,24} ?){0,12}`)
	rapid.Check(t, func(t *rapid.T) {
		p := look.Plate{
			Picture: look.Picture{
				WidthPx:  rapid.IntRange(1, 4000).Draw(t, "w"),
				HeightPx: rapid.IntRange(1, 4000).Draw(t, "h"),
				PrintDPI: rapid.Float64Range(0, 2000).Draw(t, "dpi"),
			},
			Number: text.Draw(t, "number"), Heading: text.Draw(t, "heading"), Headline: text.Draw(t, "headline"),
			Small: text.Draw(t, "small"), Stamp: text.Draw(t, "stamp"), NoNorth: text.Draw(t, "no north"), OutlineText: text.Draw(t, "outline"),
		}
		if rapid.Bool().Draw(t, "north") {
			p.North = &look.North{ClockwiseFromUpDeg: rapid.Float64Range(-360, 360).Draw(t, "deg"), Text: text.Draw(t, "n"), Source: text.Draw(t, "source")}
		}
		if rapid.Bool().Draw(t, "bar") {
			bar := RoundBar(rapid.Float64Range(0.1, 100).Draw(t, "px"), p.Picture.WidthPx)
			p.Bar = &bar
		}
		for range rapid.IntRange(0, 9).Draw(t, "rows") {
			p.Rows = append(p.Rows, look.Row{Name: text.Draw(t, "name"), Text: text.Draw(t, "row")})
		}
		for range rapid.IntRange(0, 6).Draw(t, "labels") {
			p.Labels = append(p.Labels, look.Label{
				XPx: rapid.Float64Range(-100, 4100).Draw(t, "x"), YPx: rapid.Float64Range(-100, 4100).Draw(t, "y"),
				Side: rapid.SampledFrom([]string{"top", "right", "bottom", "left"}).Draw(t, "side"), Text: rapid.StringMatching(`[A-Z][a-z]{0,5}`).Draw(t, "label"),
			})
		}
		a, err := arrange(p)
		for _, side := range []string{"top", "right", "bottom", "left"} {
			if _, _, crowded := a.labels(p.Labels, side); crowded != nil { // refused, as it should be: go on without
				p.Labels = nil
				a, err = arrange(p)
			}
		}
		if err != nil {
			t.Fatal(err)
		}
		mm := func(px int) float64 { return float64(px) / a.PxPerMm }
		picture := box{"the picture", mm(a.Picture.Min.X), mm(a.Picture.Min.Y), mm(a.Picture.Max.X), mm(a.Picture.Max.Y)}
		if a.Picture.Size() != (image.Point{X: p.Picture.WidthPx, Y: p.Picture.HeightPx}) || !a.Picture.In(image.Rectangle{Max: a.Size}) {
			t.Fatalf("picture %v in a canvas of %v", a.Picture, a.Size)
		}
		all := append(boxes(t, a, p), picture)
		for i, b := range all {
			if b.x0 < 0 || b.y0 < 0 || b.x1 > mm(a.Size.X)+0.1 || b.y1 > mm(a.Size.Y)+0.1 {
				t.Fatalf("%q leaves the canvas of %g x %g mm: %v", b.text, mm(a.Size.X), mm(a.Size.Y), b)
			}
			for _, o := range all[:i] {
				if b.meets(o) {
					t.Fatalf("%q %v meets %q %v", b.text, b, o.text, o)
				}
			}
		}
		if mm(a.Size.X) > widestMm+0.2 {
			t.Fatalf("the canvas is %g mm wide", mm(a.Size.X))
		}
	})
}

// The smallest words keep capitals of 1.6 mm when a plate is printed 150 mm wide, and the number's are 8 mm and more.
// A capital of Go is 1480 of 2048 units tall (the font's own OS/2 table).
func TestWordsAreLargeEnough(t *testing.T) {
	const capitalEm = 1480.0 / 2048
	for _, size := range [][2]int{{3000, 2250}, {2250, 3000}, {960, 640}, {20, 20}, {4000, 300}} {
		p := scaledPlate()
		p.Picture.WidthPx, p.Picture.HeightPx, p.Labels = size[0], size[1], nil
		p.Picture.PrintDPI = 0
		l := Arrange(p)
		width := float64(l.Size.X) / l.PxPerMm
		if got := smallMm * capitalEm * 150 / width; got < 1.6 {
			t.Errorf("%v: small capitals are %.2f mm on a plate printed 150 mm wide", size, got)
		}
		if got := numberMm * capitalEm; got < 8 {
			t.Errorf("the number's capitals are %.2f mm", got)
		}
	}
}

// A plate printed at its own resolution has words of their true size.
func TestFrameFollowsPrintDPI(t *testing.T) {
	p := scaledPlate()
	p.Labels = nil
	p.Picture.PrintDPI = 25.4 * 960 / 150 // the picture 150 mm wide
	if got := Arrange(p).PxPerMm; math.Abs(got-960.0/150) > 1e-9 {
		t.Errorf("%g px a mm, want %g", got, 960.0/150)
	}
}

func TestRoundBar(t *testing.T) {
	for _, c := range []struct {
		pxPerCm float64
		width   int
		text    string
		blocks  int
		blockCm float64
	}{
		{12, 960, "20 cm", 4, 5}, {10, 1000, "50 cm", 5, 10}, {10, 999, "20 cm", 4, 5}, {100, 1999, "5 cm", 5, 1},
		{100, 2000, "10 cm", 5, 2}, {3000, 3000, "5 mm", 5, 0.1}, {1, 3000, "10 m", 5, 200}, {0, 100, "", 0, 0},
		{math.NaN(), 100, "", 0, 0}, {10, 0, "", 0, 0}, {-3, 100, "", 0, 0},
	} {
		bar := RoundBar(c.pxPerCm, c.width)
		if bar.Text != c.text || bar.Blocks != c.blocks || math.Abs(bar.BlockCm-c.blockCm) > 1e-12 {
			t.Errorf("RoundBar(%g, %d) = %+v, want %s in %d blocks of %g cm", c.pxPerCm, c.width, bar, c.text, c.blocks, c.blockCm)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		px, width := rapid.Float64Range(1e-3, 1e5).Draw(t, "px"), rapid.IntRange(1, 20000).Draw(t, "width")
		bar := RoundBar(px, width)
		share := barPx(&bar) / float64(width)
		if share < 0.2-1e-9 || share > 0.5+1e-9 || bar.PxPerCm != px {
			t.Fatalf("%+v is %g of the width", bar, share)
		}
	})
}

func TestRoundPxPerCm(t *testing.T) {
	for _, c := range [][2]float64{{21.43, 20}, {20, 20}, {19.9, 15}, {99.99, 80}, {100, 100}, {0.37, 0.3}, {0.3, 0.3}, {1.2, 1.2}, {0, 0}, {-4, 0}, {math.NaN(), 0}} {
		if got := RoundPxPerCm(c[0]); got != c[1] {
			t.Errorf("RoundPxPerCm(%g) = %g, want %g", c[0], got, c[1])
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		native := rapid.Float64Range(1e-6, 1e6).Draw(t, "native")
		if got := RoundPxPerCm(native); got > native*(1+1e-11) || got < native*0.74 {
			t.Fatalf("RoundPxPerCm(%g) = %g", native, got)
		}
	})
}
