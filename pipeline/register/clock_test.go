package register

import (
	"slices"
	"strings"
	"testing"
)

func TestClocks(t *testing.T) {
	s, problems, err := parseSeason([]byte(`name = "x"
declination_deg = -2.5
[[clock]]
folder = "ann"
ahead_s = 300
[[clock]]
folder = "ann"
model = "Phone 3"
ahead_s = -12.5
[[clock]]
folder = "bob"
[[clock]]
folder = "bob"
ahead_s = 1e12
[[clock]]
folder = "bob"
ahead_s = nan
[[clock]]
folder = "ann"
ahead_s = 1
`))
	if err != nil {
		t.Fatal(err)
	}
	if want := []Clock{{"ann", "", 300}, {"ann", "Phone 3", -12.5}}; !slices.Equal(s.Clocks, want) {
		t.Errorf("got %v", s.Clocks)
	}
	if s.DeclinationDeg == nil || *s.DeclinationDeg != -2.5 {
		t.Errorf("declination %v", s.DeclinationDeg)
	}
	want := []string{"clock 3", "clock 4", "clock 5", "clock 6"}
	if len(problems) != len(want) {
		t.Fatalf("got %v", problems)
	}
	for i, p := range problems {
		if !strings.Contains(p.Error(), want[i]) {
			t.Errorf("got %v, want %s", p, want[i])
		}
	}
	if s, problems, err := parseSeason([]byte("name = \"x\"\ndeclination_deg = 181")); err != nil || len(problems) != 1 || s.DeclinationDeg != nil {
		t.Errorf("got %v, %v, %v", s.DeclinationDeg, problems, err)
	}
}

// TestPositionThatCannotBeRead is kept and reported with its sheet, row and column; one that can is not.
func TestPositionThatCannotBeRead(t *testing.T) {
	r := read(t, map[string]string{
		"season.toml": "name = \"x\"\n",
		"finds.csv":   "field_number,date,what,by,position,datum\n1,2026-02-11,rib,AB,25S 483699 4388929,WGS84\n2,2026-02-11,rib,AB,\"-38.95, -32.06\",\n",
	})
	if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Error(), `finds.csv row 2, position: position "25S 483699 4388929": 25S may be the southern half`) {
		t.Errorf("got %v", r.Problems)
	}
	if r.Finds[0].Position.Typed != "25S 483699 4388929" || r.Finds[1].Position.Typed != "-38.95, -32.06" {
		t.Errorf("got %v", r.Finds)
	}
}
