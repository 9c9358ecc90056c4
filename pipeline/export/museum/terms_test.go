package museum

import (
	"os"
	"slices"
	"strings"
	"testing"

	"fieldjacket/pipeline/export/dwca"
	"fieldjacket/pipeline/identity"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/withhold"
)

// TestTermsArePublished: each column that a table may have stands in the published list of its rows' type, and each required one is among them.
func TestTermsArePublished(t *testing.T) {
	text, err := os.ReadFile("../../../testdata/vectors/dwca_terms.tsv")
	if err != nil {
		t.Fatal(err)
	}
	known, required := map[string][]dwca.Term{}, map[string][]dwca.Term{}
	for line := range strings.SplitSeq(string(text), "\n") {
		if f := strings.Split(line, "\t"); len(f) == 3 && f[0] != "row_type" {
			known[f[0]] = append(known[f[0]], dwca.Term(f[1]))
			if f[2] == "true" {
				required[f[0]] = append(required[f[0]], dwca.Term(f[1]))
			}
		}
	}
	if len(known) != 3 {
		t.Fatalf("%d lists of terms", len(known))
	}
	a := empty(t, &register.Register{Season: register.Season{UUID: "6f1d0c3e-9a52-4b7e-8c1f-2d3e4f5a6b7c"}})
	for _, table := range []dwca.Table{a.finds, a.media, a.measurements} {
		for _, term := range table.Terms {
			if !slices.Contains(known[table.RowType], term) {
				t.Errorf("%s: %s is in no published list", table.File, term)
			}
		}
		for _, term := range required[table.RowType] {
			if !slices.Contains(table.Terms, term) {
				t.Errorf("%s: lacks %s, which is required", table.File, term)
			}
		}
	}
}

// empty is an archive of a register without photos.
func empty(t *testing.T, r *register.Register) *archive {
	t.Helper()
	names, err := identity.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	a := &archive{Season: Season{Sheets: r}, names: names, guard: withhold.NewGuard(r, false), measured: map[string]bool{}}
	a.describeFinds()
	a.describeMedia()
	a.measure()
	return a
}

// TestDispositionSaysWhereItIs: how far a jacket came in the field is no disposition.
func TestDispositionSaysWhereItIs(t *testing.T) {
	for _, c := range []struct {
		j      register.Jacket
		museum string
		want   string
	}{
		{register.Jacket{Stage: register.Opened, SentTo: "the museum"}, "NM 1", "in collection"},
		{register.Jacket{Stage: register.Received, SentTo: "the museum"}, "", "received by the museum, not catalogued yet"},
		{register.Jacket{Stage: register.Received}, "", "received, not catalogued yet"},
		{register.Jacket{Stage: register.Loaded, SentTo: "the museum"}, "", "on its way to the museum"},
		{register.Jacket{Stage: register.Capped, SentTo: "the museum"}, "", "in the field"},
		{register.Jacket{Kind: register.LeftInGround, Stage: register.Mapped}, "", "left in the ground"},
		{register.Jacket{}, "NM 1", ""},
	} {
		c.j.Number, c.j.Finds = "J", []string{"14"}
		a := empty(t, &register.Register{Season: register.Season{UUID: "6f1d0c3e-9a52-4b7e-8c1f-2d3e4f5a6b7c"}, Jackets: []register.Jacket{c.j}, Finds: []register.Find{{FieldNumber: "14", MuseumNumber: c.museum}}})
		if got := a.finds.Rows[0].Cells[dwca.Disposition]; got != c.want {
			t.Errorf("%s, sent to %q, museum number %q: %q, want %q", c.j.Stage, c.j.SentTo, c.museum, got, c.want)
		}
	}
}
