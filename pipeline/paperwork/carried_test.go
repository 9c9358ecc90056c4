package paperwork

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

func TestLabelsComeInIdenticalPairs(t *testing.T) {
	p := inventedPacket(t)
	p.Jacket.DepthCm, p.Jacket.OpenSide = number(30), "field bottom"
	p.Season.Contact = register.Contact{Owner: "Museum of the Far Shore", Ask: "M. Ostrander", MayPrint: true}
	var b bytes.Buffer
	if err := WriteLabels(&b, p); err != nil {
		t.Fatal(err)
	}
	words := said(t, b.Bytes())
	for text, n := range map[string]int{
		"outside": 3, "inside, in a sealed bag": 2, "open from: field bottom": 4, "splints: two steel rods": 4, "piece 2 of 2": 5, "METAL": 5, "Museum of the Far Shore; ask: M. Ostrander": 4, "mass: 130 to 250, up to 330 kg, estimate": 4,
	} {
		if got := strings.Count(words, text); got != n {
			t.Errorf("%q stands %d times, want %d: %s", text, got, n, words)
		}
	}
	if strings.Contains(words, "31.12") || strings.Contains(words, "32.65") {
		t.Error("a label says a position")
	}
	b.Reset()
	if err := WriteLabels(&b, Packet{Made: made, Jacket: register.Jacket{Number: "V 3", Kind: register.Vial}}); err != nil {
		t.Fatal(err)
	}
	if words := said(t, b.Bytes()); strings.Contains(words, "FIELD") || !strings.Contains(words, "inside") || !strings.Contains(words, "outside") {
		t.Errorf("a vial's labels say %q", words)
	}
	if err := WriteLabels(&b, Packet{Made: made}); err == nil {
		t.Error("labels without a number")
	}
}

func TestTruckListHasEveryPackageTwice(t *testing.T) {
	p := inventedPacket(t)
	load := Load{Made: made, Season: p.Season, Jackets: []register.Jacket{
		p.Jacket, {Number: "V 3", Kind: register.Vial}, {Number: "99", Kind: register.LeftInGround}, {Number: "1"}, {Number: "60", WeighedKg: number(61.5)},
	}, Stages: map[string]register.Stage{"1": register.Received}}
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		load.Paper = paper
		var b bytes.Buffer
		if err := WriteTruckList(&b, load); err != nil {
			t.Fatal(err)
		}
		words := said(t, b.Bytes())
		for text, n := range map[string]int{"vial: not recorded": 2, "61.5 kg weighed": 2, "07/26-B": 2, "99": 0, "3 packages; 1 left in the ground; 1 received already": 1, "not a safe load": 1} {
			if got := strings.Count(words, text); got != n {
				t.Errorf("%s: %q stands %d times, want %d", paper.Name, text, got, n)
			}
		}
	}
}

func TestFormsHaveTheRegistersWords(t *testing.T) {
	var b, again bytes.Buffer
	if err := WriteForms(&b, sheet.Letter); err != nil {
		t.Fatal(err)
	}
	if err := WriteForms(&again, sheet.Letter); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Errorf("the bytes differ (%v)", err)
	}
	words := said(t, b.Bytes())
	for _, want := range []string{"long-axis bearing (°)", "position uncertainty (m)", "bone to plaster, least (mm)", "north reference (magnetic, true, grid)", "coats", "leave out", "page 4 of 4"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in %q", want, words)
		}
	}
}

func TestWorkbook(t *testing.T) {
	p := inventedPacket(t)
	p.Finds[0].FieldNumber = "12-3"
	p.Jacket.Finds = []string{"12-3"}
	book := Workbook{Season: p.Season, Finds: p.Finds, Jackets: []Packet{p}, Photos: []Shot{{File: "tk/IMG 0412.JPG", SHA256: "ab", Plates: []string{"plates/a.jpg"}, Taken: "2026-03-12 14:02:11 -03:00", Jackets: []string{"VC 07/26-B"}, View: register.ViewGridded, ScaledBy: "board"}}}
	var b, again bytes.Buffer
	if err := WriteWorkbook(&b, book); err != nil {
		t.Fatal(err)
	}
	if err := WriteWorkbook(&again, book); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Errorf("the bytes differ (%v)", err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ sheet, cell, want string }{
		{"finds", "A1", "field_number"}, {"finds", "A2", "dwc:recordNumber"}, {"finds", "A3", "12-3"}, {"finds", "E3", "VC 07/26-B"},
		{"jackets", "A3", "VC 07/26-B"}, {"jackets", "D3", "2 of 2"}, {"jackets", "O3", "setting"}, {"photos", "I3", "board"},
		// The hash is that of the file which the access URI names (Audiovisual Core, TDWG, ac:hashValue), times are ISO 8601.
		{"photos", "B2", "ac:accessURI"}, {"photos", "B3", "photos/tk/IMG%200412.JPG"}, {"photos", "C2", "ac:hashValue"}, {"photos", "C3", "ab"}, {"photos", "D3", "SHA-256"},
		{"photos", "E3", "2026-03-12T14:02:11-03:00"}, {"photos", "J2", "ac:relatedResourceID"}, {"photos", "J3", "plates/a.jpg"},
	} {
		if got, err := f.GetCellValue(c.sheet, c.cell); err != nil || got != c.want {
			t.Errorf("%s %s: %q, want %q (%v)", c.sheet, c.cell, got, c.want, err)
		}
	}
	if kind, err := f.GetCellType("finds", "A3"); err != nil || kind != excelize.CellTypeInlineString && kind != excelize.CellTypeSharedString {
		t.Errorf("a number is not text: %v (%v)", kind, err)
	}
	rows, err := f.GetRows("finds")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if text := strings.Join(row, " "); strings.Contains(text, "31.12") || strings.Contains(text, "32.65") {
			t.Errorf("the workbook says a position: %s", text)
		}
	}
}

func TestDaySheetSaysWhatThePageSays(t *testing.T) {
	d := inventedDay(t)
	d.OnPlaster = []Line{{"VC 12", "VC 12 / FIELD TOP on the side that lay up"}}
	var b bytes.Buffer
	d.Paper, d.Phones = sheet.Letter, []Phone{{Name: "tk, Phone 3", Photos: 17, Copied: []string{"17 copied and verified", "no second copy"}}}
	if err := WriteDaySheet(&b, d); err != nil {
		t.Fatal(err)
	}
	words := said(t, b.Bytes())
	for _, want := range []string{"Ready to jacket", "Can still be fixed", "NOT READY: gridded not scaled", "VC <13>", "whole board in the picture", "nothing names a jacket", "cut short", "finds.csv row 7", "tk, Phone 3: 17; 17 copied and verified; no second copy", "FIELD TOP on the side"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q", want)
		}
	}
	if err := WriteDaySheet(&b, Day{}); err == nil {
		t.Error("a day without a date has a sheet")
	}
}

// What a person chose is printed, then one plate of each view but that of the first sheet; no more than six unless a person chose more.
func TestChosenPlates(t *testing.T) {
	n := 0
	plate := func(view register.View, picked bool) Plate {
		n++
		return Plate{Path: fmt.Sprint(n), View: view, Chosen: picked}
	}
	var nine []Plate
	for range 9 {
		nine = append(nine, plate(register.ViewClose, true))
	}
	mirrored := func(view register.View) Plate { p := plate(view, false); p.Mirrored = true; return p }
	for _, c := range []struct {
		name      string
		all       []Plate
		first     int // the plate on the first sheet, from 1; 0: none
		own, rest int
	}{
		{"none", nil, 0, 0, 0},
		{"three without a view", []Plate{plate("", false), plate("", false), plate("", false)}, 0, 0, 3},
		{"three of one view", []Plate{plate(register.ViewBone, false), plate(register.ViewBone, false), plate(register.ViewBone, false)}, 0, 1, 2},
		{"its view is on the first sheet", []Plate{plate(register.ViewBone, false), plate(register.ViewBone, false), plate(register.ViewClose, false)}, 1, 1, 1},
		{"chosen beside the first sheet's", []Plate{plate(register.ViewBone, true), plate(register.ViewBone, true)}, 1, 1, 0},
		{"every view twice", func() (all []Plate) {
			for _, v := range register.Views {
				all = append(all, plate(v, false), plate(v, false))
			}
			return all
		}(), 0, 6, 2*len(register.Views) - 6},
		{"nine chosen", nine, 0, 9, 0},
		{"a mirrored one is another view", []Plate{
			plate(register.ViewBone, false), plate(register.ViewGridded, false), mirrored(register.ViewGridded), mirrored(register.ViewGridded),
			plate(register.ViewJacketed, false), plate(register.ViewUnderside, false),
		}, 2, 4, 1},
	} {
		var first *Plate
		if c.first > 0 {
			first = &c.all[c.first-1]
		}
		if own, rest := chosen(c.all, first); len(own) != c.own || len(rest) != c.rest {
			t.Errorf("%s: %d printed, %d small, want %d and %d", c.name, len(own), len(rest), c.own, c.rest)
		}
	}
}

func TestTapeInkAndUntreated(t *testing.T) {
	p := inventedPacket(t)
	p.Jacket.Separator = "wet Newspaper"
	p.Diary = append(p.Diary, register.Entry{Date: register.Date{Year: 2026, Month: 3, Day: 12}, Numbers: []string{"VC 07/26-B"}, What: "tail end left untreated", Where: "E2", By: "TK"})
	p.Plates[0].Tapes = []string{"A1 to F6: tape 412 mm, plate 405 ± 9 mm, within U"}
	words := said(t, written(t, p))
	for _, want := range []string{"plate 405 ± 9 mm, within U (plate of tk/IMG_0412.JPG)", "SEPARATOR WITH INK", "LEFT UNTREATED FOR SAMPLES", "tail end left untreated (E2)"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(said(t, written(t, inventedPacket(t))), "WITH INK") {
		t.Error("tissue has no ink")
	}
}
