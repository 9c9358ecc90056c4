package seasonfile

import (
	"slices"
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

func TestClocks(t *testing.T) {
	s, problems, err := parse([]byte(`name = "x"
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
	if want := []register.Clock{{Folder: "ann", Model: "", AheadS: 300}, {Folder: "ann", Model: "Phone 3", AheadS: -12.5}}; !slices.Equal(s.Clocks, want) {
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
	if s, problems, err := parse([]byte("name = \"x\"\ndeclination_deg = 181")); err != nil || len(problems) != 1 || s.DeclinationDeg != nil {
		t.Errorf("got %v, %v, %v", s.DeclinationDeg, problems, err)
	}
}
