package evidence

import (
	"strings"
	"testing"
)

// TestDisagreeing: one thing differs from itself only by more than both U together, over all levels that it may lie on; of one
// photo, or of two things, nothing is compared; the worst pair speaks.
func TestDisagreeing(t *testing.T) {
	m := func(what, photo string, least, most, u float64) Measured {
		return Measured{what, photo, least, most, u, "cm"}
	}
	for name, c := range map[string]struct {
		all  []Measured
		want []string
	}{
		"within":             {[]Measured{m("femur", "a", 40, 40, 0.6), m("femur", "b", 40.9, 40.9, 0.7)}, nil},
		"beyond":             {[]Measured{m("femur", "a", 40, 40, 0.6), m("femur", "b", 41, 41, 0.7)}, []string{"femur is 40.00 ± 0.60 cm in a and 41.00 ± 0.70 cm in b"}},
		"smaller":            {[]Measured{m("femur", "a", 41, 41, 0.6), m("femur", "b", 40, 40, 0.7)}, []string{"femur is 41.00 ± 0.60 cm in a and 40.00 ± 0.70 cm in b"}},
		"levels not known":   {[]Measured{m("femur", "a", 40, 45, 0.6), m("femur", "b", 44, 44, 0.7)}, nil},
		"beyond all levels":  {[]Measured{m("femur", "a", 40, 45, 0.6), m("femur", "b", 48, 48, 0.7)}, []string{"femur is 40.00 to 45.00 ± 0.60 cm in a"}},
		"one photo":          {[]Measured{m("femur", "a", 40, 40, 0.6), m("femur", "a", 48, 48, 0.7)}, nil},
		"two things":         {[]Measured{m("femur", "a", 40, 40, 0.6), m("rib", "b", 48, 48, 0.7)}, nil},
		"the worst of three": {[]Measured{m("femur", "a", 40, 40, 0.6), m("femur", "b", 42, 42, 0.6), m("femur", "c", 44, 44, 0.6)}, []string{"in a and 44.00 ± 0.60 cm in c"}},
		"two of them": {[]Measured{m("femur", "a", 40, 40, 0.6), m("rib", "a", 10, 10, 0.1), m("femur", "b", 42, 42, 0.6), m("rib", "b", 12, 12, 0.1)},
			[]string{"femur is", "rib is"}},
	} {
		got := Disagreeing(c.all)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %q", name, got, c.want)
			continue
		}
		for i, d := range got {
			if !strings.Contains(d.Text, c.want[i]) {
				t.Errorf("%s: %q, want %q", name, d.Text, c.want[i])
			}
		}
	}
}
