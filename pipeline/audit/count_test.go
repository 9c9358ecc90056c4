package audit

import (
	"testing"

	"fieldjacket/pipeline/register"
)

// TestPhotosOfAJacketAreCounted: those that can be read, are not left out and belong to it, and among them those without a view.
func TestPhotosOfAJacketAreCounted(t *testing.T) {
	photos := []Photo{
		of(register.ViewBone, "14"), of("", "14"), of("", "14", "15"), unreadable(of("", "14")), leftOut(of("", "14")), of("", "15"), of(register.ViewBone), of("", "14"),
	}
	for _, j := range Check(registerOf(register.Jacket{Number: "14"}, register.Jacket{Number: "15"}, register.Jacket{Number: "16"}), photos).Jackets {
		want := map[string][2]int{"14": {4, 3}, "15": {2, 2}, "16": {0, 0}}[j.Number]
		if j.Photos != want[0] || j.NoView != want[1] {
			t.Errorf("jacket %s has %d photos, %d without a view, want %v", j.Number, j.Photos, j.NoView, want)
		}
	}
}
