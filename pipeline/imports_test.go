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

// rooms are the packages below pipeline/ from the lowest to the highest: one imports from floors below its own alone.
var rooms = [][]string{
	{"container", "export/dwca", "export/picture", "keep", "locate", "mass", "orientation", "survey", "truth"},
	{"alike", "intake"},
	{"children", "register"},
	{"figure", "folder", "identity", "layout", "phones", "table", "withhold", "words"},
	{"assign", "seasonfile"},
	{"audit", "record", "registerfile"},
	{"demo", "diagnostic", "evidence", "export/consent", "geotag", "missing", "offload"},
	{"findmap", "paperwork", "plate", "report", "scale"},
	{"assembly", "carryover", "export/museum", "observe", "publish"},
	{"loose", "printing"},
	{""},
	{"review"},
}

// pure are the packages that touch no file: values go in and come out.
var pure = []string{"pipeline/evidence", "pipeline/layout", "pipeline/plate", "pipeline/scale", "pipeline/figure", "pipeline/assign", "pipeline/audit", "pipeline/findmap"}

// alone are packages that one other alone may import, and what only they may
// import from outside.
var (
	onlyImporter = map[string]string{
		module + "/calibrate/vision":            "cmd/fieldjacket-vision",
		module + "/calibrate/vision/imagefile":  "calibrate/vision",
		module + "/calibrate/vision/stringgrid": "calibrate/vision",
		module + "/calibrate/vision/stereo":     "calibrate/vision",
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
			if fault := wrongImport(folder, name, strings.HasSuffix(file, "_test.go")); fault != "" {
				t.Errorf("%s: %s", rel, fault)
			}
			if slices.Contains(pure, folder) && !strings.HasSuffix(file, "_test.go") && slices.Contains([]string{"os", "io/fs", "net", "os/exec"}, name) {
				t.Errorf("%s: imports %s, and the package touches no file", rel, name)
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

// wrongImport says what is wrong with a package in folder importing name; a test may use what lies above it in pipeline.
func wrongImport(folder, name string, test bool) string {
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
	if from, to := room(folder), room(rest); !test && from >= 0 && folder != rest && to >= from {
		return "imports " + name + ", which lies on its own floor or above it"
	}
	if room(folder) < 0 && strings.HasPrefix(folder, "pipeline") {
		return "stands on no floor: enter it in rooms"
	}
	return ""
}

// room is the number of the floor of a package below pipeline/, 0 the lowest; -1: it stands on none.
func room(folder string) int {
	name := strings.TrimPrefix(strings.TrimPrefix(folder, "pipeline"), "/")
	if !strings.HasPrefix(folder, "pipeline") {
		return -1
	}
	return slices.IndexFunc(rooms, func(floor []string) bool { return slices.Contains(floor, name) })
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
		{"pipeline/plate", "fieldjacket/pipeline/evidence", false},
		{"pipeline/evidence", "fieldjacket/pipeline/plate", true},
		{"pipeline/scale", "fieldjacket/pipeline/plate", true},
		{"pipeline/publish", "fieldjacket/pipeline", true},
		{"pipeline/unheard", "fieldjacket/pipeline/keep", true},
		{"overlay", "fieldjacket/pipeline/register", true},
		{"pipeline", "fieldjacket/calibrate/vision", true},
		{"cmd/fieldjacket", "fieldjacket/calibrate/vision", true},
		{"cmd/fieldjacket-vision", "gocv.io/x/gocv", true},
		{"calibrate/vision/stringgrid", "gocv.io/x/gocv", true},
		{"cmd/fieldjacket-vision", "fieldjacket/calibrate/vision/imagefile", true},
	} {
		if got := wrongImport(c.folder, c.name, false); (got != "") != c.wrong {
			t.Errorf("%s importing %s: %q, want a fault: %t", c.folder, c.name, got, c.wrong)
		}
	}
}
