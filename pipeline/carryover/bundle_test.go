package carryover

import (
	"os"
	"path/filepath"
	"testing"
)

// TestAPictureThatIsNotReadIsNotNone: a bundle without it would say that the jacket has none.
func TestAPictureThatIsNotReadIsNotNone(t *testing.T) {
	file := filepath.Join(t.TempDir(), "plate.jpg")
	if err := os.WriteFile(file, []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	b := Bundle{copies: map[string]string{}}
	for _, c := range []struct {
		name, path, to string
		fails          bool
	}{
		{"none", "", "", false},
		{"there", file, "pictures/plate.jpg", false},
		{"not there", file + "~", "", false},
		{"below a file", filepath.Join(file, "a.jpg"), "", true}, // which a system refuses to look up
	} {
		if to, err := b.copied(c.path); (err != nil) != c.fails || err == nil && to != c.to {
			t.Errorf("%s: %q, %v; want %q, an error: %v", c.name, to, err, c.to, c.fails)
		}
	}
	if len(b.copies) != 1 {
		t.Errorf("copies %v", b.copies)
	}
}
