package publish

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

// TestDayPagesCarryNoPosition: a position that cannot be read is a fault of the register, and the fault's text holds it.
func TestDayPagesCarryNoPosition(t *testing.T) {
	got := withoutPlace(register.Problem{File: "finds.csv", Row: 2, Column: "position", Value: "25S 483699 4388929", Allowed: "13S 483699 is wrong", Lost: register.LostNothing})
	if strings.Contains(got, "25S") || strings.Contains(got, "483699") || !strings.Contains(got, "finds.csv row 2, position") {
		t.Errorf("got %q", got)
	}
	other := register.Problem{File: "finds.csv", Row: 2, Column: "date", Value: "11.2.", Allowed: "want a day", Lost: register.LostCell}
	if got := withoutPlace(other); got != other.Error() {
		t.Errorf("got %q", got)
	}
}
