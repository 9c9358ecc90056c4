package paperwork

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// TestBestLengths: a length on bone goes before one at the strings, a confirmed size before an assumed one, then the smaller U;
// finds first, in the jacket's order, then outlines; a mirrored plate tells nothing twice.
func TestBestLengths(t *testing.T) {
	find := func(number, photo string, onBone bool, size calibrate.Known, u float64) figure.Length {
		l := figure.Length{Find: number, What: "A to B", Photo: photo, Size: size, UCm: u, Says: "by " + photo}
		if v := 40.0; onBone {
			l.Cm, l.Below = &v, "5 cm below the strings"
		} else {
			l.AtReferenceCm = &v
		}
		return l
	}
	outline := func(name, what, photo string, u float64) figure.Length {
		l := find("", photo, true, calibrate.Said, u)
		l.Outline, l.What = name, what
		return l
	}
	p := Packet{Jacket: register.Jacket{Number: "21", Finds: []string{"22", "21"}}, Finds: []register.Find{{FieldNumber: "22"}, {FieldNumber: "21"}, {FieldNumber: "20"}}, Plates: []Plate{
		{Photo: "a", Lengths: []figure.Length{find("21", "a", false, calibrate.Confirmed, 0.1), outline("rib", figure.GreatestLength, "a", 2)}},
		{Photo: "b", Lengths: []figure.Length{find("21", "b", true, calibrate.Assumed, 0.2), find("22", "b", true, calibrate.Said, 3), outline("rib", figure.GreatestLength, "b", 1), outline("rib", figure.WidthAcross, "b", 1)}},
		{Photo: "c", Lengths: []figure.Length{find("21", "c", true, calibrate.Confirmed, 0.9), find("22", "c", true, calibrate.Said, 2)}},
		{Photo: "d", Mirrored: true, Lengths: []figure.Length{find("22", "d", true, calibrate.Confirmed, 0.1)}},
	}}
	var got []string
	for _, l := range p.Lengths() {
		got = append(got, l.Find+l.Outline+" "+l.What+" "+l.Photo)
	}
	if want := "22 A to B c, 21 A to B c, rib greatest length b, rib width across it b"; strings.Join(got, ", ") != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := p.lengthOf("21"); got != "A to B: by c, by c" {
		t.Errorf("%q", got)
	}
	if got := p.lengthOf("20"); got != "" {
		t.Errorf("%q", got)
	}
	var b bytes.Buffer
	if err := WriteWorkbook(&b, Workbook{Jackets: []Packet{p}}); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := book.GetRows("measurements")
	if err != nil || len(sheet) != 2+8 {
		t.Fatalf("%d lines: %q (%v)", len(sheet), sheet, err)
	}
	cell := func(line int, head string) string {
		for i, h := range sheet[0] {
			if h == head && i < len(sheet[line]) {
				return sheet[line][i]
			}
		}
		return ""
	}
	if a, b := cell(2, "on_bone"), cell(2, "at_reference_only"); a != "" || b != "40" || cell(2, "level") != "of the reference only" {
		t.Errorf("of unknown depth: on bone %q, at the reference %q: %q", a, b, sheet[2])
	}
	if a, b := cell(4, "on_bone"), cell(4, "at_reference_only"); a != "40" || b != "" || cell(4, "u_k2") != "0.2" || cell(4, "in_words") != "by b" || cell(4, "field_number") != "21" {
		t.Errorf("on bone: %q, %q: %q", a, b, sheet[4])
	}
}
