package layout

import (
	"reflect"
	"testing"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/sheet"
)

// TestPrintedTakesItsLinesAlong: level lines stay where outlines stay on a plate that is enlarged, and go with all that is
// drawn where it is printed to draw on.
func TestPrintedTakesItsLinesAlong(t *testing.T) {
	bar := overlay.RoundBar(10, 600)
	through := [][2]float64{{10, 20}, {300, 200}, {599, 399}}
	p := look.Plate{
		Picture: look.Picture{WidthPx: 600, HeightPx: 400, From: [6]float64{0.1, 0, 0, 0, 0.1, 0}, PxPerCm: 10, PrintDPI: 150}, Bar: &bar,
		Lines: []look.Line{{Through: through, Text: "bone"}}, Contours: []look.Contour{{Through: through, Text: "8"}},
		Profiles: []look.Profile{{}}, Table: &look.Table{},
	}
	out, _, _, err := Printed(p, 3, false, sheet.A4)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(out.Contours[0].Through, out.Lines[0].Through) || reflect.DeepEqual(out.Contours[0].Through, through) {
		t.Errorf("a level line through %v, an outline through %v", out.Contours[0].Through, out.Lines[0].Through)
	}
	if p.Contours[0].Through[1] != through[1] {
		t.Error("the plate that was printed from was changed")
	}
	out, _, _, err = Printed(p, 3, true, sheet.A4)
	if err != nil || out.Contours != nil || out.Profiles != nil || out.Table != nil {
		t.Errorf("to draw on: %+v, %v", out, err)
	}
}
