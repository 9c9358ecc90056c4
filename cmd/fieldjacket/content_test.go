package main

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPhotosAreKnownByTheirContent: photos renamed, moved, exchanged and deleted, and the whole season in another place, cost
// no look; what is drawn of them carries the new names.
func TestPhotosAreKnownByTheirContent(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	again := func(what string, looked, redone, plates int) {
		t.Helper()
		_, out := fieldjacket("run", "--json", dir)
		lines := strings.Split(strings.TrimSpace(out), "\n")
		var last struct {
			Summary struct{ Looked, Redone, Plates, Scaled int }
		}
		must(json.Unmarshal([]byte(lines[len(lines)-1]), &last))
		if s := last.Summary; s.Looked != looked || s.Redone != redone || s.Plates != plates || s.Scaled != plates {
			t.Errorf("%s: %d looked at, %d redone, %d plates, %d scaled; want %d, %d, %d, %d", what, s.Looked, s.Redone, s.Plates, s.Scaled, looked, redone, plates, plates)
		}
		for _, folder := range []string{"plates", "previews", "records"} {
			err := filepath.WalkDir(filepath.Join(dir, "paper", folder), func(path string, d fs.DirEntry, err error) error {
				if what != "first run" && strings.Contains(path, "OLD") || strings.HasSuffix(path, ".tmp") {
					t.Errorf("%s: %s is left", what, path)
				}
				return err
			})
			must(err)
		}
	}
	photo := func(name string) string { return filepath.Join(dir, "photos/ann", name) }
	move := func(from, to string) { t.Helper(); must(os.Rename(photo(from), photo(to))) }
	move("jacket 14/gridded/IMG_0001.JPG", "jacket 14/gridded/OLD_0001.JPG")
	again("first run", 3, 3, 3)
	move("jacket 14/gridded/OLD_0001.JPG", "jacket 14/gridded/NEW_0001.JPG")
	again("renamed", 0, 1, 3)
	move("jacket 14/gridded/NEW_0001.JPG", "jacket 15/gridded/NEW_0001.JPG")
	again("moved to another jacket", 0, 1, 3)
	move("jacket 15/gridded/NEW_0001.JPG", "spare")
	move("jacket 15/gridded/IMG_0003.JPG", "jacket 15/gridded/NEW_0001.JPG")
	move("spare", "jacket 15/gridded/IMG_0003.JPG")
	again("names exchanged", 0, 2, 3)
	must(os.CopyFS(dir+"-elsewhere", os.DirFS(dir)))
	dir += "-elsewhere"
	again("the season elsewhere", 0, 0, 3)
	must(os.Remove(photo("jacket 15/gridded/IMG_0003.JPG")))
	again("one deleted", 0, 0, 2)
}
