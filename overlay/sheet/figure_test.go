package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestWindowHoldsWhatMustBeSeen: the part lies within the picture, holds all that must be seen, fits the room at its round scale, and no
// larger round scale would do; where the picture has more, the room is filled.
func TestWindowHoldsWhatMustBeSeen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		picture := Area{X0: at("x0", 0, 500), Y0: at("y0", 0, 500)}
		picture.X1, picture.Y1 = picture.X0+at("w", 50, 6000), picture.Y0+at("h", 50, 6000)
		must := Area{X0: at("mx0", picture.X0, picture.X1), Y0: at("my0", picture.Y0, picture.Y1)}
		must.X1, must.Y1 = at("mx1", must.X0, picture.X1), at("my1", must.Y0, picture.Y1)
		px, wide, tall := at("px/cm", 2, 80), at("wide", 40, 183), at("tall", 40, 200)
		part, n := Window(picture, must, px, wide, tall)
		const e = 1e-6
		if part.X0 < picture.X0-e || part.X1 > picture.X1+e || part.Y0 < picture.Y0-e || part.Y1 > picture.Y1+e {
			t.Fatalf("part %v leaves the picture %v", part, picture)
		}
		mm := func(px1, px0 float64) float64 { return (px1 - px0) / px * 10 / n }
		if mm(part.X1, part.X0) > wide+e || mm(part.Y1, part.Y0) > tall+e {
			t.Fatalf("part %v at 1:%g takes more than %g x %g mm", part, n, wide, tall)
		}
		if part.X0 > must.X0+e || part.X1 < must.X1-e || part.Y0 > must.Y0+e || part.Y1 < must.Y1-e {
			t.Fatalf("part %v does not hold %v", part, must)
		}
		if mm(part.X1, part.X0) < wide-e && part.X1-part.X0 < picture.X1-picture.X0-e {
			t.Fatalf("the room is %g mm wide, the part %g, and the picture goes on", wide, mm(part.X1, part.X0))
		}
		for _, larger := range roundRatios {
			if larger < n && (must.X1-must.X0)/px*10/larger <= wide && (must.Y1-must.Y0)/px*10/larger <= tall {
				t.Fatalf("1:%g would do, not 1:%g", larger, n)
			}
		}
	})
}

// barred is a JPEG with two black lines from top to bottom, apart px from each other.
func barred(t *testing.T, w, h, first, apart int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(200)
			if x >= first && x < first+4 || x >= first+apart && x < first+apart+4 {
				v = 0
			}
			img.SetGray(x, y, color.Gray{Y: v})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestFigureIsTrueToScale: two lines in the picture lie as far apart on paper as its scale says, whichever part is shown, and the bar
// below is as long as it says.
func TestFigureIsTrueToScale(t *testing.T) {
	const dpi = 300
	for _, c := range []struct {
		part    Area
		pxPerCm float64
		n       float64
	}{{Area{0, 0, 1600, 900}, 20, 5}, {Area{300, 100, 1300, 700}, 20, 5}, {Area{350, 50, 1250, 850}, 50, 1}, {Area{200, 0, 1500, 900}, 8, 10}} {
		s := begin(A4)
		cell := s.Cell(s.WidthMm())
		cell.Figure(Figure{JPEG: barred(t, 1600, 900, 500, 600), Part: c.part, PxPerCm: c.pxPerCm, N: c.n})
		cell.Bar(Bar{Text: "8 cm", Blocks: 4, BlockCm: 2}, c.n)
		top := s.y
		bottom := top + cell.TallMm()
		s.Place(cell)
		page := rasters(t, s, "-r", "300")[0]
		px := func(mm float64) int { return int(math.Round(mm / 25.4 * dpi)) }
		// Within the frame, which is black too.
		left, right := px(leftMm+1), px(leftMm+(c.part.X1-c.part.X0)/c.pxPerCm*10/c.n-1)
		first, last := black(page, px(top+10), left, right)
		lines, want := float64(last-first)*25.4/dpi, (600+3)/c.pxPerCm*10/c.n
		if math.Abs(lines-want) > 0.25 {
			t.Errorf("%v at 1:%g: the lines lie %.2f mm apart on paper, want %.2f", c.part, c.n, lines, want)
		}
		first, last = black(page, px(bottom-1.6-1.5), px(leftMm-1), px(leftMm+185))
		if long, want := float64(last-first+1)*25.4/dpi, 80/c.n+0.25; math.Abs(long-want) > 0.2 {
			t.Errorf("1:%g: the bar is %.2f mm long, want %.2f", c.n, long, want)
		}
	}
}

// TestNorthPointsWhereItSays: the black half lies left of the line from the notch to the tip, which is where the arrow points to.
func TestNorthPointsWhereItSays(t *testing.T) {
	const dpi = 150
	for _, deg := range []float64{0, 90, 180, 270, 33} {
		s := begin(A4)
		c := s.Cell(60)
		c.North(deg, "TRUE NORTH", "")
		x, y := leftMm+10.0, s.y+10
		s.Place(c)
		page := rasters(t, s, "-r", "150")[0]
		dark := func(right, up float64) bool {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			return page.GrayAt(int((x+right*cos+up*sin)/25.4*dpi), int((y+right*sin-up*cos)/25.4*dpi)).Y < 128
		}
		if !dark(-0.8, 0) || dark(1.1, -1) || dark(0, -6.5) {
			t.Errorf("the arrow at %g° does not point there", deg)
		}
	}
}

// TestCellsGoOnOverleaf: what finds no room on a sheet stands on the next, each paragraph once and in order.
func TestCellsGoOnOverleaf(t *testing.T) {
	s := begin(A4)
	s.Gap(180)
	cells := s.Columns(2)
	for i := range 60 {
		cells[i%2].Item(strings.Repeat("words that are long enough to be wrapped ", 1+i%4))
		cells[i%2].Named("name", strings.Repeat("and its text ", 1+i%9))
	}
	framed := s.FramedCell(s.WidthMm())
	for range 90 {
		framed.Text("a line in a frame that is taller than a sheet")
	}
	s.Place(cells[0], cells[1])
	s.Place(framed)
	if s.Pages() < 4 || s.err != nil {
		t.Errorf("%d pages, %v", s.Pages(), s.err)
	}
	if s.y > s.Paper.HeightMm-footMm {
		t.Errorf("words stand over the foot, at %.0f mm", s.y)
	}
}
