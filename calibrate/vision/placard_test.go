//go:build cgo

package vision

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/placard"
)

// placardPhoto is a code seen at a slant, px a module at its middle, on noisy
// ground.
func placardPhoto(t *testing.T, number string, w, h int, px float64) *image.RGBA {
	t.Helper()
	modules, err := placard.Draw(number)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	n := float64(len(modules))
	sin, cos := math.Sincos(0.4)
	for y := range h {
		for x := range w {
			dx, dy := (float64(x)-float64(w)/2)/px, (float64(y)-float64(h)/2)/px
			dx, dy = cos*dx+sin*dy, cos*dy-sin*dx
			f := 1 / (1 - 0.006*dx)
			u, v := 1.15*f*dx+n/2, f*dy+n/2
			level := 110 + 40*math.Sin(float64(x)/30)*math.Cos(float64(y)/17)
			switch {
			case u >= 0 && v >= 0 && u < n && v < n && modules[int(v)][int(u)]:
				level = 35
			case u >= -4 && v >= -4 && u < n+4 && v < n+4:
				level = 215
			}
			g := uint8(min(255, max(0, level+3*rng.NormFloat64())))
			img.SetRGBA(x, y, color.RGBA{g, g, g, 255})
		}
	}
	return img
}

// TestPlacardsAreRead from small, at 4 px a module, to one that fills the
// picture.
func TestPlacardsAreRead(t *testing.T) {
	for _, px := range []float64{4, 6, 10, 24} {
		p := opened(t, placardPhoto(t, "VC 14", 1600, 1200, px), 26)
		codes := Placards(p)
		p.Close()
		if len(codes) != 1 || codes[0].Text != "fieldjacket:jacket:VC 14" {
			t.Errorf("%g px a module: %+v", px, codes)
			continue
		}
		var x, y float64
		for _, c := range codes[0].Corners {
			x, y = x+c.XPx/4, y+c.YPx/4
		}
		if math.Hypot(x-800, y-600) > 2*px {
			t.Errorf("%g px a module: middle of the corners at (%.0f, %.0f)", px, x, y)
		}
	}
}

// panelFace is a card's field and panel with a jacket's codes, at 5 px a
// millimetre, over which dirt lies: of the left code over two of its large
// squares, of the right over one and a half of them.
func panelFace(t *testing.T, number int, jacket string, dirt bool) (face *image.Gray, pxPerCm float64) {
	t.Helper()
	const pxPerMm, left, top, wide, tall = 5, 12.0, 30.0, 156.0, 178.0
	modules, err := placard.Draw(jacket)
	if err != nil {
		t.Fatal(err)
	}
	module := card.CodeMm / float64(len(modules)+2*placard.QuietModules)
	face = image.NewGray(image.Rect(0, 0, wide*pxPerMm, tall*pxPerMm))
	for y := range face.Rect.Dy() {
		for x := range face.Rect.Dx() {
			u, v := (float64(x)+0.5)/pxPerMm-left, (float64(y)+0.5)/pxPerMm-top
			c := card.Cell{T: int(math.Floor(u / card.SquareMm)), R: int(math.Floor(v / card.SquareMm))}
			dark := card.Cards.Has(c) && c.Dark() || card.Cards.Dot(number, c) && math.Hypot(u-(float64(c.T)+0.5)*card.SquareMm, v-(float64(c.R)+0.5)*card.SquareMm) < card.DotMm/2
			for i, at := range card.CodesAtMm {
				t, r := int(math.Floor((u-at[0])/module))-placard.QuietModules, int(math.Floor((v-at[1])/module))-placard.QuietModules
				if t < 0 || r < 0 || t >= len(modules) || r >= len(modules) {
					continue
				}
				dark = modules[r][t]
				if dirt && (r < 7 && t < 7 || i == 0 && r < 7 && t >= len(modules)-7 || i == 1 && r >= len(modules)-7 && t < 4) {
					dark = true
				}
			}
			if !dark {
				face.Pix[y*face.Stride+x] = 255
			}
		}
	}
	return face, 10 * pxPerMm
}

// TestPanelIsReadByTheCardsPlane where dirt lies on the codes' large squares,
// so that the codes by themselves are not found.
func TestPanelIsReadByTheCardsPlane(t *testing.T) {
	for _, dirt := range []bool{false, true} {
		s := cardScene(4, cardCase{viewCm: 36, tiltDeg: 25, width: 1400, height: 1050, number: 9})
		s.Cards[0].Face, s.Cards[0].FacePxPerCm = panelFace(t, 9, "VC 14", dirt)
		img, _ := s.Render()
		p := opened(t, img, s.Camera.Focal35Mm)
		full, _ := p.raster()
		alone := 0
		for _, pass := range p.passes() {
			held := p.blocksOf(pass)
			alone += len(full.codes(full.patterns(held.quads, float64(held.factor)), p.Camera()))
		}
		codes := Placards(p)
		if len(codes) != 1 || codes[0].Text != placard.Prefix+"VC 14" {
			t.Errorf("dirt %t: %+v, %d cards", dirt, codes, len(p.cards()))
		}
		if dirt == (alone > 0) {
			t.Errorf("dirt %t: %d codes read by their own squares", dirt, alone)
		}
		p.Close()
	}
}

// TestSquareOf: a core's four corners fix the same homography as a fit to them, also outside it, and corners on a line fix none.
func TestSquareOf(t *testing.T) {
	camera := calibrate.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26}
	at := [4][2]float64{{2, 2}, {5, 2}, {5, 5}, {2, 5}}
	q := quad{corner: [4]place{{800, 500}, {861, 512}, {874, 570}, {790, 566}}}
	var marks []calibrate.Mark
	for i, c := range q.corner {
		marks = append(marks, calibrate.Mark{At: calibrate.Point{XPx: c.x, YPx: c.y}, UCm: at[i][0], VCm: at[i][1]})
	}
	plane, _, err := calibrate.Fit(calibrate.Reference{}, camera, marks, calibrate.FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	want, _ := mappingOf(plane)
	for _, p := range [][2]float64{{2, 2}, {5, 2}, {5, 5}, {2, 5}, {0, 0}, {7.5, 3}, {3.5, 7.5}} {
		a, ok := want(p[0], p[1])
		b, in := squareOf(q)(p[0], p[1])
		if !ok || !in || a.minus(b).size() > 1e-3 {
			t.Errorf("module (%g, %g): at %v, by a fit at %v", p[0], p[1], b, a)
		}
	}
	if m, ok := squareOf(quad{corner: [4]place{{0, 0}, {1, 1}, {2, 2}, {3, 3}}})(4, 4); ok {
		t.Errorf("four corners on a line put a module at %v", m)
	}
}
