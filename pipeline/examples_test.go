package pipeline

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// placed is the name of a zone that names a place: the areas of the IANA tz database.
var placed = regexp.MustCompile(`\b(?:Africa|America|Antarctica|Arctic|Asia|Atlantic|Australia|Europe|Indian|Pacific)/[A-Z]`)

// TestExamplesNameNoPlace: what is invented lies nowhere, so the zones of examples and tests are offsets.
func TestExamplesNameNoPlace(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." || d.IsDir() && slices.Contains([]string{filepath.Join("..", "bin"), filepath.Join("..", "demo")}, file):
			return fs.SkipDir
		case !slices.Contains([]string{".go", ".txtar", ".toml", ".md", ".csv", ".js", ".html", ".json"}, filepath.Ext(file)) || file == "examples_test.go":
			return nil
		}
		text, err := os.ReadFile(file)
		seen++
		if at := placed.FindIndex(text); at != nil {
			t.Errorf("%s names the place %q", file, text[at[0]:min(len(text), at[1]+20)])
		}
		return err
	})
	if err != nil || seen < 100 {
		t.Fatalf("%d files read: %v", seen, err)
	}
}
