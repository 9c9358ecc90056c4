package registerfile

import (
	"strings"
	"testing"
)

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
