package withhold

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
)

func TestHeadsOfPlaces(t *testing.T) {
	for _, head := range []string{"Koordinaten", "Lage", "plus code", "county", "map sheet", "Map_Sheet", "GPS point", "lat", "long", "X", "Rechtswert", "Fundort", "coordenadas", "Ubicación", "Lieu-dit",
		"località", "coordinate", "Eigentümer", "Dueño", "permit no", "координаты", "Широта", "坐标", "район", "UTM_E", "Grid ref.", "What3Words", "Access", "Landkreis", "owner's name", "Propriétaire", "Município"} {
		if !placeHead(head) {
			t.Errorf("%q may hold a place", head)
		}
	}
	for _, head := range []string{"weather", "geology", "Geological age", "lateral", "plate", "flat side", "Breite_cm", "long axis cm", "Länge_mm", "colour", "Farbe", "matrix", "position", "remarks 2", "field notes", "taphonomy", "Erhaltung", "altura", "largo", "ordre"} {
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
	told := strings.Join(Told(r), "\n")
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
	if told := Told(r); told != nil {
		t.Errorf("positions may be printed, and yet %q", told)
	}
}
