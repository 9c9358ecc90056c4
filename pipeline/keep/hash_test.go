package keep

import (
	"fmt"
	"testing"
)

// TestHash: what is equal has one hash, whatever the order of a map; what
// differs, also by where one text ends and the next begins, has another.
func TestHash(t *testing.T) {
	a, b := map[string]int{}, map[string]int{}
	for i := range 50 {
		a[fmt.Sprint(i)] = i
		b[fmt.Sprint(49-i)] = 49 - i
	}
	if Hash(a) != Hash(b) {
		t.Error("the order of a map changes the hash")
	}
	if Hash("ab", "c") == Hash("a", "bc") {
		t.Error("ab c and a bc have one hash")
	}
	if Hash("look", 1) == Hash("look", 2) {
		t.Error("a raised recipe leaves the hash")
	}
	if got := Hash("x"); len(got) != 32 {
		t.Errorf("%q: want 32 hex digits", got)
	}
}
