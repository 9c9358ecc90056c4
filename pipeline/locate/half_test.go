package locate

import (
	"errors"
	"strings"
	"testing"
)

// TestWhichHalf: what may be meant is said so that it can be typed, and other places decide. The places of both are GeoConvert's
// (GeographicLib 2.1.2): 12 north 560000 4250000 is 38.39621, -110.31290; 12 south is -51.89752, -110.12799.
func TestWhichHalf(t *testing.T) {
	for _, typed := range []string{"12S 0560000 4250000", "12 S 0560000mE 4250000mN", "12S E 0560000 N 4250000", "12 0560000 4250000"} {
		_, err := Parse(typed, "")
		var unclear *HalfUnclear
		if !errors.As(err, &unclear) {
			t.Errorf("%q: %v", typed, err)
			continue
		}
		if !strings.Contains(err.Error(), "write 12 north 0560000 4250000 or 12 south 0560000 4250000") {
			t.Errorf("%q: %v", typed, err)
		}
		near, far, elsewhere := Place{LatDeg: 38.4, LonDeg: -110.3}, Place{LatDeg: -51.9, LonDeg: -110.1}, Place{LatDeg: 47, LonDeg: 8}
		for _, c := range []struct {
			known []Place
			want  string
		}{
			{nil, ""}, {[]Place{near}, "12 north 0560000 4250000"}, {[]Place{far, far}, "12 south 0560000 4250000"}, {[]Place{near, far}, ""}, {[]Place{elsewhere}, ""}, {[]Place{near, elsewhere}, ""},
		} {
			if got := unclear.By(c.known); got != c.want {
				t.Errorf("%q by %v: %q, want %q", typed, c.known, got, c.want)
			}
		}
		for i, want := range []Place{{LatDeg: 38.39621, LonDeg: -110.31290}, {LatDeg: -51.89752, LonDeg: -110.12799}} {
			got, err := Parse(unclear.Both()[i], "")
			if err != nil || Distance(*got.Place, want) > 2 {
				t.Errorf("%q: %v %v, want %v", unclear.Both()[i], got.Place, err, want)
			}
		}
	}
	// Close to the equator both may lie near: neither is chosen.
	_, err := Parse("31 500000 300000", "")
	var unclear *HalfUnclear
	if errors.As(err, &unclear) && unclear.By([]Place{{LatDeg: 2.7, LonDeg: 3}}) != "31 north 500000 300000" {
		t.Errorf("%v", err)
	}
}
