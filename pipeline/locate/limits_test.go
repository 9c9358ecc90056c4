package locate

import "testing"

// TestPolesAndTheDateLine are places; beyond them is none.
func TestPolesAndTheDateLine(t *testing.T) {
	for text, ok := range map[string]bool{
		"90 N 0 E": true, "90 S 0 E": true, "90.1 N 0 E": false, "90.1 S 0 E": false, "45 N 180 E": true, "45 N 180 W": true, "45 N 180.1 E": false, "45 N 180.1 W": false,
		"-90, -180": true, "-90.001, 10": false, "90.001, 10": false, "45, -180.001": false,
	} {
		if p, err := Parse(text, "WGS84"); (err == nil) != ok {
			t.Errorf("%s: %+v, %v", text, p, err)
		}
	}
}

// TestUTMZones run from 1 to 60.
func TestUTMZones(t *testing.T) {
	for text, ok := range map[string]bool{"1 north 500000 4250000": true, "60 north 500000 4250000": true, "0 north 500000 4250000": false, "61 north 500000 4250000": false, "60 south 500000 4250000": true} {
		if p, err := Parse(text, "WGS84"); (err == nil) != ok {
			t.Errorf("%s: %+v, %v", text, p, err)
		}
	}
}
