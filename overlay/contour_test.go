package overlay

import (
	"fmt"
	"image"
	"math"
	"testing"

	"fieldjacket/calibrate/contour"
	"fieldjacket/calibrate/look"
)

// reliefPlate is a plate of ground that slopes, with a long bone on it: 60 x 40 cm at 16 px/cm.
func reliefPlate(t *testing.T) look.Plate {
	t.Helper()
	below := func(u, v float64) float64 {
		z := 11 + 0.06*u + 0.03*v + 0.5*math.Sin(u/5)*math.Cos(v/6)
		along, across := 0.94*(u-30)+0.34*(v-20), -0.34*(u-30)+0.94*(v-20)
		if wide := 3.5 + 2*math.Pow(along/22, 4); math.Abs(along) < 22 && math.Abs(across) < wide {
			z -= 5 * math.Sqrt(1-across*across/wide/wide)
		}
		return z
	}
	s := contour.Surface{Across: 61, Down: 41, StepCm: 1, Z: make([]float64, 61*41)}
	for i := range s.Z {
		s.Z[i] = below(float64(i%61), float64(i/61))
		if i%61 > 48 && i/61 < 9 {
			s.Z[i] = math.NaN()
		}
	}
	s = s.Filled(0.7)
	bar := RoundBar(16, 960)
	p := look.Plate{
		Picture: look.Picture{WidthPx: 960, HeightPx: 640, PxPerCm: 16, PrintDPI: 152.4},
		Number:  "VC 07/26-B", Heading: "relief, 12 March 2026", Headline: "100 mm on this scale bar = 100.0 ± 0.6 mm at bone level (8.2 ± 0.4 cm below the strings, from 3 photos)",
		Small: "± U (k = 2, about 95 %)", Bar: &bar, NoNorth: "NO BEARING: nobody marked the origin corner in this photo", Pale: true,
		Rows: []look.Row{{Name: "level lines", Text: "each 1 cm, numbered in cm below the strings"}},
	}
	for level := 3.0; level < 18; level++ {
		for _, l := range s.Lines(level) {
			c := look.Contour{Text: fmt.Sprint(level), Heavy: math.Mod(level, 5) == 0}
			for _, at := range l.Simplified(0.05) {
				c.Through = append(c.Through, [2]float64{16*at[0] - 0.5, 16*at[1] - 0.5})
			}
			p.Contours = append(p.Contours, c)
		}
	}
	at := 8.2
	p.Profiles = []look.Profile{{Title: "Profile from A to B, in cm below the strings; dashed: the level of the scale bar", From: "proximal end", To: "distal end", FromCm: 3, ToCm: 45.5, LengthCm: 48, LeastCm: 6, MostCm: 16, EachCm: 1, BarCm: &at}}
	var piece [][2]float64
	for a := 0.0; a <= 48; a += 0.5 {
		if a > 30 && a < 32 {
			p.Profiles[0].Pieces = append(p.Profiles[0].Pieces, piece)
			piece = nil
			continue
		}
		piece = append(piece, [2]float64{a, below(30+0.94*(a-24), 20+0.34*(a-24))})
	}
	p.Profiles[0].Pieces = append(p.Profiles[0].Pieces, piece)
	p.Table = &look.Table{Title: "Depth of each square, in cm below the strings", Columns: []string{"A", "B", "C", "D", "E", "F"}, Rows: []string{"1", "2", "3", "4"}}
	for j := range 4 {
		var row []string
		for i := range 6 {
			cell := fmt.Sprintf("%.1f", below(float64(10*i+5), float64(10*j+5)))
			if i == 5 && j == 0 {
				cell = ""
			}
			row = append(row, cell)
		}
		p.Table.Cells = append(p.Table.Cells, row)
	}
	return p
}

// TestReliefGolden holds level lines, profile and table.
func TestReliefGolden(t *testing.T) {
	p := reliefPlate(t)
	canvas := plateOn(p, "busy")
	if err := Draw(canvas, p); err != nil {
		t.Fatal(err)
	}
	golden(t, "relief_busy", canvas)
}

// TestProfileIsTrue: one centimetre is as long down as across, and the ground's line runs where it is said to.
func TestProfileIsTrue(t *testing.T) {
	p := look.Plate{Picture: look.Picture{WidthPx: 960, HeightPx: 200, PrintDPI: 152.4}, Number: "1"}
	p.Profiles = []look.Profile{{ToCm: 40, LengthCm: 40, LeastCm: 0, MostCm: 10, EachCm: 2, Pieces: [][][2]float64{{{0, 10}, {10, 0}}, {{20, 5}, {40, 5}}}}}
	canvas := plateOn(p, "light")
	if err := Draw(canvas, p); err != nil {
		t.Fatal(err)
	}
	a, _ := arrange(p)
	dark := func(x, y float64) bool {
		for dy := -2; dy <= 2; dy++ {
			if canvas.RGBAAt(int(x), int(y)+dy).R < 90 {
				return true
			}
		}
		return false
	}
	left, right := math.MaxInt, 0 // of the level line at the top
	top := 0
	for y := int(a.footY * a.PxPerMm); y < canvas.Rect.Dy() && top == 0; y++ {
		run := 0
		for x := range canvas.Rect.Dx() {
			if canvas.RGBAAt(x, y).R < 200 {
				run++
				left, right = min(left, x), max(right, x)
			}
		}
		if run > 300 {
			top = y
		} else {
			left, right = math.MaxInt, 0
		}
	}
	if top == 0 {
		t.Fatal("no level line")
	}
	// The ticks' numbers stand outside; the line itself is the dark run round the middle.
	middle := (left + right) / 2
	for left = middle; canvas.RGBAAt(left-1, top).R < 200; left-- {
	}
	for right = middle; canvas.RGBAAt(right+1, top).R < 200; right++ {
	}
	perCm := float64(right-left) / 40
	for _, at := range [][2]float64{{2, 8}, {5, 5}, {9, 1}, {25, 5}, {38, 5}} {
		if !dark(float64(left)+at[0]*perCm, float64(top)+at[1]*perCm) {
			t.Errorf("the ground is not drawn at %v", at)
		}
	}
	if dark(float64(left)+15*perCm, float64(top)+5*perCm) {
		t.Error("the ground is drawn across a gap")
	}
}

// TestReliefFaults: what cannot be drawn is refused.
func TestReliefFaults(t *testing.T) {
	for name, spoil := range map[string]func(*look.Plate){
		"contour at infinity":  func(p *look.Plate) { p.Contours[0].Through[0][0] = math.Inf(1) },
		"profile of no length": func(p *look.Plate) { p.Profiles[0].LengthCm = 0 },
		"an end past its end":  func(p *look.Plate) { p.Profiles[0].ToCm = 49 },
		"too many levels":      func(p *look.Plate) { p.Profiles[0].EachCm = 0.01 },
		"no levels":            func(p *look.Plate) { p.Profiles[0].EachCm = 0 },
		"point past its end":   func(p *look.Plate) { p.Profiles[0].Pieces[0][0][0] = 99 },
		"point above it all":   func(p *look.Plate) { p.Profiles[0].Pieces[0][0][1] = p.Profiles[0].LeastCm - 1 },
		"point not a number":   func(p *look.Plate) { p.Profiles[0].Pieces[0][0][1] = math.NaN() },
		"table short of a row": func(p *look.Plate) { p.Table.Cells = p.Table.Cells[1:] },
		"table's row too long": func(p *look.Plate) { p.Table.Cells[0] = append(p.Table.Cells[0], "1") },
	} {
		p := reliefPlate(t)
		spoil(&p)
		if Draw(plateOn(p, "light"), p) == nil {
			t.Errorf("%s was drawn", name)
		}
	}
}

// TestNumbersStandApart: numbers in level lines lie within the picture, in their lines, and none in another.
func TestNumbersStandApart(t *testing.T) {
	d := newPen(image.NewRGBA(image.Rect(0, 0, 600, 400)), 8)
	var taken [][4]float64
	for i := range 12 {
		var through [][2]float64
		for x := -20.0; x <= 620; x += 5 {
			through = append(through, [2]float64{x, 40 + 12*float64(i) + 20*math.Sin(x/60)})
		}
		box, ok := d.labelPlace(through, 20, 16, taken)
		if !ok {
			continue
		}
		mid := [2]float64{(box[0] + box[2]) / 2, (box[1] + box[3]) / 2}
		if want := 40 + 12*float64(i) + 20*math.Sin(mid[0]/60); math.Abs(mid[1]-want) > 1 || box[0] < 0 || box[2] > 600 || meets(box, taken, 8) {
			t.Errorf("number %d stands at %v, its line runs at %.1f there", i, box, want)
		}
		taken = append(taken, box)
	}
	if len(taken) < 8 {
		t.Errorf("only %d of 12 lines are numbered", len(taken))
	}
	if _, ok := d.labelPlace([][2]float64{{100, 100}, {120, 100}, {140, 100}}, 20, 16, nil); ok {
		t.Error("a line of 5 mm is numbered")
	}
}
