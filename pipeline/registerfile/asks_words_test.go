package registerfile

import "testing"

// TestASlipIsToldByWhatWasTyped, not by an example that may be another jacket's size.
func TestASlipIsToldByWhatWasTyped(t *testing.T) {
	r := read(t, map[string]string{"jackets.csv": "jacket,length_cm,weighed_kg\n21,2000,4500\n", "finds.csv": "field_number,date,what,by\n"})
	want := map[string]string{
		"length_cm":  "2000 cm? Few jackets are over 300 cm; where 2000 mm are meant, type 200. It is printed as it stands",
		"weighed_kg": "4500 kg? Few jackets are over 1000 kg; where 4500 g are meant, type 4.5. It is printed as it stands",
	}
	for _, p := range r.Problems {
		if want[p.Column] == p.Allowed {
			delete(want, p.Column)
		}
	}
	if len(want) > 0 {
		t.Errorf("not said: %q; said %v", want, r.Problems)
	}
}
