package register

import "testing"

// TestACarriedJacketKnowsItsNumbers: its own, those of its finds and of their localities, each by itself.
func TestACarriedJacketKnowsItsNumbers(t *testing.T) {
	c := Carried{Number: "14", Finds: []Find{{FieldNumber: "F1"}, {FieldNumber: "F2"}}, Localities: []Locality{{Number: "L1"}}}
	for number, want := range map[string]bool{"14": true, "F1": true, "F2": true, "L1": true, "15": false, "": false} {
		if got := c.Knows(number); got != want {
			t.Errorf("knows %q: %t", number, got)
		}
	}
}
