package offload

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"
)

// TestAnySource: whatever lies on a phone and in the place, each photo and film is in the place afterwards, what was there is as it
// was, no two names differ in capitals alone, and the same again copies no photo and no film.
func TestAnySource(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp("", "offload")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(dir)
		folder := rapid.SampledFrom([]string{"", "100APPLE/", "101APPLE/", "jacket 7/", "DCIM/Camera/", "Jacket 7/"})
		stem := rapid.SampledFrom([]string{"IMG_1", "img_1", "IMG_2", "\u00e9", "e\u0301"})
		ending := rapid.SampledFrom([]string{".JPG", ".jpg", ".MOV", ".HEIC", ".AAE", ".xmp", ".JPG.xmp"})
		content := rapid.SampledFrom([]string{"a", "b", "c", "dd", "ee"})
		holds := func(file string) []byte { // no sidecar is a photo
			return []byte(string(kindByName(file)) + content.Draw(t, "holds"))
		}
		name := func(label string) string {
			return folder.Draw(t, label) + stem.Draw(t, label) + ending.Draw(t, label)
		}
		there := map[string]string{}
		for range rapid.IntRange(0, 4).Draw(t, "there") {
			file := name("there")
			what := string(holds(file))
			path := filepath.Join(dir, file)
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(what), 0o644); err != nil {
				t.Fatal(err)
			}
			there[file] = what
		}
		from := fstest.MapFS{}
		for range rapid.IntRange(1, 8).Draw(t, "on the phone") {
			file := name("phone")
			from[file] = &fstest.MapFile{Data: holds(file), ModTime: taken}
		}
		r, err := Copy(context.Background(), Source{files: from}, []Place{{Dir: dir}}, silent{})
		if err != nil || !r.All(0) {
			t.Fatalf("%v: %+v", err, r)
		}
		for _, f := range r.Files {
			if got, err := os.ReadFile(filepath.Join(dir, f.At[0].File)); err != nil || string(got) != string(from[f.From].Data) {
				t.Fatalf("%s is said to be %s, which holds %q (%v)", f.From, f.At[0].File, got, err)
			}
		}
		for file, what := range there {
			if got, _ := os.ReadFile(filepath.Join(dir, file)); string(got) != what {
				t.Fatalf("%s held %q and holds %q", file, what, got)
			}
		}
		seen := map[string]string{}
		_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			rel, _ := filepath.Rel(dir, path)
			if twin, ok := seen[fold(rel)]; ok && there[rel] == "" && !d.IsDir() {
				t.Fatalf("%s and %s are one on many disks", rel, twin)
			}
			seen[fold(rel)] = rel
			return err
		})
		for run := 2; run <= 3; run++ {
			again, err := Copy(context.Background(), Source{files: from}, []Place{{Dir: dir}}, silent{})
			if err != nil || !again.All(0) {
				t.Fatalf("again: %v: %+v", err, again)
			}
			for i, f := range again.Files {
				// a sidecar that another one of the same content stood for may come to its own photo once that has its name
				if f.At[0].Copied && (run == 3 || f.Kind != Sidecar) {
					t.Fatalf("run %d: %s was copied again as %s, having been %s", run, f.From, f.At[0].File, r.Files[i].At[0].File)
				}
			}
		}
	})
}
