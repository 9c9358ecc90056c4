package withhold

import (
	"slices"
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

func guarded() *register.Register {
	return &register.Register{
		Season: register.Season{
			People:  []register.Person{{Initials: "AB", Name: "Ambra Bellweather"}, {Initials: "CD", Name: "Cid Dolan", MayPrint: true, ORCID: "0000-0002-1825-0097"}},
			Contact: register.Contact{Owner: "Museum of the Far Shore", Ask: "+00 555 0100"},
		},
		Localities: []register.Locality{{Number: "L1", Name: "Hidden Gully", Landowner: "Secret Holding", Permit: "P-4711", Access: "by the ford, then left",
			Position: register.Position{Typed: "-47.51234, -42.24958", Datum: "WGS84"}}},
		Finds: []register.Find{{FieldNumber: "14", Position: register.Position{Typed: "25G 556677 4737512", Datum: "WGS84"}, Other: []register.Other{{Head: "Lage", Text: "beim alten Brunnen"}}}},
		Jackets: []register.Jacket{{Number: "9", Carried: &register.Carried{Localities: []register.Locality{{Name: "Older Gully"}},
			Season: register.Season{People: []register.Person{{Initials: "EF", Name: "Elin Farrow"}}}}}},
	}
}

// TestGuardHoldsBack: nothing that the register says in confidence passes in a free text, a heading or a file's name.
func TestGuardHoldsBack(t *testing.T) {
	g := NewGuard(guarded(), false)
	for _, text := range []string{
		"rib from Hidden Gully", "HIDDEN_GULLY/IMG_1.jpg", "hiddengully-2", "ask Secret Holding first", "permit p4711", "come by the ford, then left", "lat 47.51234 only", "lat -47.5123", "long 42,2496",
		"at 47.51234 S 42.24958 W", "E 556677", "N4737512 there", "beim alten Brunnen", "Older Gully", "drawn by Ambra Bellweather", "Bellweather's hand", "Farrow saw it", "Museum of the Far Shore", "call +00 555 0100", "25G 556677 4737512",
	} {
		got := g.Text(text)
		for _, secret := range []string{"idden", "IDDEN", "ecret", "4711", "ford", "47.5", "42.2", "42,2", "556677", "4737512", "Brunnen", "Older", "Bellweather", "Ambra", "Farrow", "Far Shore", "0100"} {
			if strings.Contains(got, secret) {
				t.Errorf("%q passes as %q", text, got)
			}
		}
		if !g.Holds(struct{ Rows []struct{ Text string } }{[]struct{ Text string }{{"rib"}, {text}}}) {
			t.Errorf("%q is not noticed", text)
		}
	}
	for _, text := range []string{"rib, 45.2 ± 1.1 cm on bone", "IMG_20260310_140211.jpg", "sandstone, hidden cracks", "14 of 47", "PXL_20260310_140211123.jpg", "bearing 42° magnetic", "10.47 cm"} {
		if got := g.Text(text); got != text {
			t.Errorf("%q becomes %q", text, got)
		}
	}
}

// TestGuardWithPositions lets the places pass, and names of people only where they agreed.
func TestGuardWithPositions(t *testing.T) {
	g := NewGuard(guarded(), true)
	if got := g.Text("Hidden Gully, 47.51234 S 42.24958 W, Ambra Bellweather and Cid Dolan"); got != "Hidden Gully, 47.51234 S 42.24958 W, [held back] and Cid Dolan" {
		t.Errorf("got %q", got)
	}
}

func TestNamesByPermission(t *testing.T) {
	g := NewGuard(guarded(), false)
	names, orcids := g.Names("AB; CD, Ambra Bellweather / Joan van der Stranger & XY")
	if want := []string{"AB", "Cid Dolan", "AB", "JVDS", "XY"}; !slices.Equal(names, want) {
		t.Errorf("got %q, want %q", names, want)
	}
	if !slices.Equal(orcids, []string{"https://orcid.org/0000-0002-1825-0097"}) {
		t.Errorf("got %q", orcids)
	}
}

func TestGuardedColumns(t *testing.T) {
	row := []register.Other{{Head: "Lage", Text: "am Hang"}, {Head: "colour", Text: "red"}, {Head: "note", Text: "Hidden Gully"}}
	if got := NewGuard(guarded(), false).Columns(row); len(got) != 2 || got[0].Text != "red" || got[1].Text != heldBack {
		t.Errorf("got %v", got)
	}
	if got := NewGuard(guarded(), true).Columns(row); len(got) != 3 || got[0].Text != "am Hang" {
		t.Errorf("got %v", got)
	}
}
