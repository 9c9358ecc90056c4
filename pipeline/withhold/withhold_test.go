package withhold

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
)

func TestHeadsOfPlaces(t *testing.T) {
	for _, head := range []string{"Koordinaten", "Lage", "plus code", "county", "map sheet", "Map_Sheet", "GPS point", "lat", "long", "X", "Rechtswert", "Fundort", "coordenadas", "Ubicación", "Lieu-dit",
		"località", "coordinate", "Eigentümer", "Dueño", "permit no", "координаты", "Широта", "坐标", "район", "UTM_E", "Grid ref.", "What3Words", "Access", "Landkreis", "owner's name", "Propriétaire", "Município", "gemeente", "Gemeente (dorp)", "Kommun", "kommune", "Comuna", "concelho", "gmina", "kunta", "obec", "parish", "община", "село"} {
		if !placeHead(head) {
			t.Errorf("%q may hold a place", head)
		}
	}
	for _, head := range []string{"weather", "geology", "Geological age", "lateral", "plate", "flat side", "Breite_cm", "long axis cm", "Länge_mm", "colour", "Farbe", "matrix", "position", "remarks 2", "field notes", "taphonomy", "Erhaltung", "altura", "largo", "ordre", "summary", "n", "height", "north arrow", "cantidad", "komma", "westward"} {
		if placeHead(head) != (head == "position") {
			t.Errorf("%q: %v", head, placeHead(head))
		}
	}
}

func TestCopyLeavesTheRegisterAsItWas(t *testing.T) {
	find := func() register.Find {
		return register.Find{Row: 3, FieldNumber: "581454 5688351", What: "rib at 31.12345 S 32.65432 W, whole", Position: register.Position{Typed: "31.1 S 32.6 W"}, Formerly: []string{"14"},
			Other: []register.Other{{Head: "Koordinaten", Text: "see book"}, {Head: "colour", Text: "8FWC2345+G6"}, {Head: "weather", Text: "wind"}}}
	}
	f := find()
	want := find()
	want.What, want.Position = "rib at [position held back], whole", register.Position{}
	want.Other[0].Text, want.Other[1].Text = HeldCell, HeldCell
	if diff := cmp.Diff(want, Copy(f)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(find(), f); diff != "" {
		t.Errorf("the register itself has changed: %s", diff)
	}
}

func TestWhatIsHeldBackIsTold(t *testing.T) {
	r := &register.Register{
		Finds: []register.Find{
			{Row: 2, Other: []register.Other{{Head: "Lage", Text: "am Hang"}, {Head: "colour", Text: "red"}}, Remarks: "from 25 south 581454 5688351"},
			{Row: 3, Other: []register.Other{{Head: "Lage", Text: "unten"}, {Head: "note", Text: "8FWC2345+G6"}}},
		},
		Diary: []register.Entry{{Row: 9, What: "glued", Other: []register.Other{{Head: "weather", Text: "wind"}}}},
	}
	told := strings.Join(Explain(r), "\n")
	for _, want := range []string{"finds sheet", "Lage, note", "row 2"} {
		if !strings.Contains(told, want) {
			t.Errorf("no %q in %q", want, told)
		}
	}
	for _, never := range []string{"581454", "8FWC", "diary", "colour", "row 2, 3", "weather"} {
		if strings.Contains(told, never) {
			t.Errorf("%q in %q", never, told)
		}
	}
	r.Season.Print.Positions = register.PrintFull
	if told := Explain(r); told != nil {
		t.Errorf("positions may be printed, and yet %q", told)
	}
}

// Easting and northing stand in two columns as often as in one.
func TestPairsOverTwoColumns(t *testing.T) {
	of := func(texts ...string) (out []register.Other) {
		for i := 0; i < len(texts); i += 2 {
			out = append(out, register.Other{Head: texts[i], Text: texts[i+1]})
		}
		return out
	}
	for _, row := range [][]register.Other{
		of("rw", "4512345", "hw", "5401234"), of("RW", "12345", "HW", "54012"), of("x", "1", "y", "2"), of("E", "530123", "N", "4219456"), of("ost", "530 123", "nord", "4 219 456"),
		of("este", "530123", "norte", "4219456"), of("east_m", "530123.5", "north_m", "4219456,5"), of("a", "4512345", "b", "5401234"), of("p1", "530'123", "p2", "4'219'456"),
	} {
		for i, o := range Copy(register.Find{Other: row}).Other {
			if o.Text != HeldCell {
				t.Errorf("%v: column %d is printed", row, i)
			}
		}
	}
	apart := Copy(register.Find{Other: of("a", "4512345", "colour", "red", "b", "5401234")}).Other
	if apart[0].Text != HeldCell || apart[1].Text != "red" || apart[2].Text != HeldCell {
		t.Errorf("with a column between: %v", apart)
	}
	for _, row := range [][]register.Other{
		of("n", "12", "e", "3"), of("from photo", "1234567", "colour", "red"), of("first", "123456", "last", "123457"), of("mass g", "1250", "pieces", "12"), of("h", "12.5", "w", "8"), of("acc", "20260310", "no", "123456"),
	} {
		if got := Copy(register.Find{Other: row}).Other; !cmp.Equal(got, row) {
			t.Errorf("%v is printed as %v", row, got)
		}
	}
	r := &register.Register{Finds: []register.Find{{Row: 2, Other: of("a", "4512345", "b", "5401234", "c 530123 4219456", "12")}}}
	if told := strings.Join(Explain(r), ""); !strings.Contains(told, "a, b") || strings.Contains(told, "c ") {
		t.Errorf("told: %q", told)
	}
	if head := Copy(r.Finds[0]).Other[2].Head; head != "c [position held back]" {
		t.Errorf("the head is printed as %q", head)
	}
}

// A number that somebody typed a position for is one too.
func TestPositionsInNumbersOfOthers(t *testing.T) {
	f := Copy(register.Find{MuseumNumber: "NM 2026/1234; 12SVK5234567890", Formerly: []string{"14", "530123E 4219456N", "NM 2026 1234"}})
	if f.MuseumNumber != "NM 2026/1234; [position held back]" || strings.Join(f.Formerly, "|") != "14|[position held back]|NM 2026 1234" {
		t.Errorf("%q, %q", f.MuseumNumber, f.Formerly)
	}
}

// Places in a photo are in pixels, and stay; what was typed beside them does not.
func TestPlacesInPhotosStay(t *testing.T) {
	const of = "2026-02-11 18:42, RKA, of photo a/1.jpg: "
	for _, line := range []string{
		"outline femur: bone at 512.331,802.125 640.222,811.123 123.4567,88.1234", "outline femur: bone level 8cm at 12345.678,802.125 64.222,81.123 530123,4219456", "end a: 102.3312,45.1234", "end a 21: 102.3312,45.1234",
		"north: 102.3312,45.1234 103.3312,46.1234 magnetic", "reference: checker 7x5/2cm tolerance 1mm picked 2px at 12.331,80.125 64.222,81.123 12.3,4.5 6.7,8.9", "tape: 412mm at 12.331,80.125 64.222,81.123",
		"tape A to B: 412mm at 12.331,80.125 64.222,81.123", "caption: the skull, 3 coats", "jackets: 21; 22",
	} {
		if got := Copy(struct{ Words []string }{[]string{of + line}}).Words[0]; got != of+line {
			t.Errorf("%q is printed as %q", of+line, got)
		}
	}
	for line, want := range map[string]string{
		"caption: camp at -31.12345,-32.65432":                      "caption: camp at [position held back]",
		"caption: outline: at -31.12345,-32.65432":                  "caption: outline: at [position held back]",
		"outline 530123E 4219456N: bone at 512.331,802.125 1,2 3,4": "outline [position held back]: bone at 512.331,802.125 1,2 3,4",
		"no_scale: yes: 12SVK5234567890":                            "no_scale: yes: [position held back]",
	} {
		if got := Copy(struct{ Words []string }{[]string{of + line}}).Words[0]; got != of+want {
			t.Errorf("%q is printed as %q", line, got)
		}
	}
}
