package pipeline

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// module is the project's own import path.
const module = "fieldjacket"

// floors are the layers from top to bottom: a package imports from its own
// floor and from those below.
var floors = []string{"cmd", "pipeline", "overlay", "calibrate"}

// alone are packages that one other alone may import, and what only they may
// import from outside.
var (
	onlyImporter = map[string]string{
		module + "/calibrate/vision":            "cmd/fieldjacket-vision",
		module + "/calibrate/vision/imagefile":  "calibrate/vision",
		module + "/calibrate/vision/stringgrid": "calibrate/vision",
	}
	onlyUser = map[string][]string{"gocv.io/x/gocv": {"calibrate/vision", "calibrate/vision/imagefile"}}
)

// TestImportsPointOneWay reads every source file, under any build tag, and
// fails on an import that points up, on a second importer of the vision
// package, and on OpenCV anywhere else.
func TestImportsPointOneWay(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(file, ".go") {
			return nil
		}
		seen++
		rel, err := filepath.Rel("..", file)
		if err != nil {
			return err
		}
		folder := path.Dir(filepath.ToSlash(rel))
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range parsed.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if fault := wrongImport(folder, name); fault != "" {
				t.Errorf("%s: %s", rel, fault)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 50 {
		t.Fatalf("only %d source files read: this test looks in the wrong place", seen)
	}
}

// wrongImport says what is wrong with a package in folder importing name.
func wrongImport(folder, name string) string {
	if only, ok := onlyUser[name]; ok && !slices.Contains(only, folder) {
		return "imports " + name + ", which only " + strings.Join(only, " and ") + " may"
	}
	if only, ok := onlyImporter[name]; ok && folder != only {
		return "imports " + name + ", which only " + only + " may"
	}
	rest, ours := strings.CutPrefix(name, module+"/")
	if !ours {
		return ""
	}
	if floor(rest) < floor(folder) {
		return "imports " + name + ", which lies above it"
	}
	return ""
}

// floor is the number of a package's layer, 0 the highest.
func floor(folder string) int {
	top, _, _ := strings.Cut(folder, "/")
	for i, f := range floors {
		if f == top {
			return i
		}
	}
	return -1
}

// TestWrongImports holds the rule itself to examples.
func TestWrongImports(t *testing.T) {
	for _, c := range []struct {
		folder, name string
		wrong        bool
	}{
		{"cmd/fieldjacket", "fieldjacket/pipeline", false},
		{"pipeline", "fieldjacket/overlay", false},
		{"overlay", "fieldjacket/calibrate/look", false},
		{"cmd/fieldjacket-vision", "fieldjacket/calibrate/vision", false},
		{"calibrate/vision", "gocv.io/x/gocv", false},
		{"calibrate", "fieldjacket/overlay", true},
		{"overlay", "fieldjacket/pipeline/register", true},
		{"pipeline", "fieldjacket/calibrate/vision", true},
		{"cmd/fieldjacket", "fieldjacket/calibrate/vision", true},
		{"cmd/fieldjacket-vision", "gocv.io/x/gocv", true},
		{"calibrate/vision/stringgrid", "gocv.io/x/gocv", true},
		{"cmd/fieldjacket-vision", "fieldjacket/calibrate/vision/imagefile", true},
	} {
		if got := wrongImport(c.folder, c.name); (got != "") != c.wrong {
			t.Errorf("%s importing %s: %q, want a fault: %t", c.folder, c.name, got, c.wrong)
		}
	}
}
