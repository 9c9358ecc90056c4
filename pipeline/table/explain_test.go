package table

import "testing"

// TestEveryColumnIsExplained on the sheet of the workbook that says how to fill it in.
func TestEveryColumnIsExplained(t *testing.T) {
	for _, f := range Forms {
		if !f.InBook() {
			continue
		}
		for _, head := range f.Heads {
			if explained[head] == "" {
				t.Errorf("%s: %s is not explained", f.File, head)
			}
		}
	}
}
