package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/register"
)

// seasonWithBoard writes a season of rendered photos: boards under two
// jackets. It gives the truth at the first board's middle, in px/cm.
func seasonWithBoard(t *testing.T, dir string) (pxPerCm float64) {
	t.Helper()
	if _, err := children.Find(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	must(register.Template(dir))
	must(os.WriteFile(filepath.Join(dir, "finds.csv"), []byte("field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n"), 0o644))
	must(os.WriteFile(filepath.Join(dir, "jackets.csv"), []byte("jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,mapped\n"), 0o644))
	must(os.WriteFile(filepath.Join(dir, "season.toml"), []byte("name = \"invented\"\n[[reference]]\nname = \"board\"\nkind = \"checker\"\nsquares = \"7x5\"\nsquare_cm = 2\n"), 0o644))
	shots, pxPerCm := rendered()
	for i, number := range []string{"14", "14", "15"} {
		folder := filepath.Join(dir, "photos", "ann", "jacket "+number, "gridded")
		must(os.MkdirAll(folder, 0o755))
		must(os.WriteFile(filepath.Join(folder, fmt.Sprintf("IMG_%04d.JPG", i+1)), shots[i], 0o644))
	}
	return pxPerCm
}

// rendered gives three photos of a board, rendered once for all tests, and the
// truth at the first board's middle, in px/cm.
var rendered = sync.OnceValues(func() (shots [][]byte, pxPerCm float64) {
	for i := range 3 {
		s := scene.Scene{
			Seed:     uint64(i),
			Ground:   scene.Ground{RoughCm: 1},
			Camera:   scene.Camera{WidthPx: 1000, HeightPx: 750, Focal35Mm: 26, DistanceCm: 60, TiltDeg: float64(5 + 4*i), HeadingDeg: float64(70 * i)},
			Checkers: []scene.Checker{{Pose: scene.Pose{ZCm: 2, TurnDeg: float64(20 * i)}, Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.3}},
		}
		picture, truth := s.Render()
		if i == 0 {
			pxPerCm = truth.Planes[0].ScalePxPerCm(0, 0, 0)
		}
		var b bytes.Buffer
		if err := scene.WritePhoto(&b, picture, 90, scene.Tags{Make: "Anvil", Model: "Ridge 3", Local: fmt.Sprintf("2026:02:11 10:0%d:00", i), Offset: "-03:00", Focal35Mm: 26}); err != nil {
			panic(err)
		}
		shots = append(shots, b.Bytes())
	}
	return shots, pxPerCm
})

// fieldjacket runs the program in this process.
func fieldjacket(args ...string) (code int, out string) {
	var b bytes.Buffer
	code = run(context.Background(), args, terminal{strings.NewReader(""), &b, &b})
	return code, b.String()
}

// files hashes every file below a folder but records' own, which hold the
// stamps of files.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	sums := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".lock" || strings.Contains(path, "/records/") {
			return err
		}
		content, err := os.ReadFile(path)
		sums[strings.TrimPrefix(path, dir)] = fmt.Sprintf("%x", sha256.Sum256(content))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return sums
}

func same(t *testing.T, what string, a, b map[string]string) {
	t.Helper()
	for name, sum := range a {
		if b[name] != sum {
			t.Errorf("%s: %s differs", what, name)
		}
	}
	for name := range b {
		if _, ok := a[name]; !ok {
			t.Errorf("%s: %s is one too many", what, name)
		}
	}
}

// TestSeasonFromPhotosToPaper: scaled as the truth has it, done once, and a
// change costs what it touches.
func TestSeasonFromPhotosToPaper(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	truth := seasonWithBoard(t, dir)
	photo := filepath.Join(dir, "photos/ann/jacket 14/gridded/IMG_0001.JPG")
	_, out := fieldjacket("scale", "--json", "--tolerance", "0mm", "--checker", "5x7/2cm", photo)
	var answer scaleAnswer
	if err := json.Unmarshal([]byte(out), &answer); err != nil || answer.Status != "scaled" {
		t.Fatalf("%v: %s", err, out)
	}
	if off := math.Abs(answer.PxPerCm-truth) / truth; off > 0.001 {
		t.Errorf("%.4f px/cm, truth %.4f: off by %.3f %%, want 0.1", answer.PxPerCm, truth, 100*off)
	}
	originals := files(t, filepath.Join(dir, "photos"))
	if code, out := fieldjacket("run", "--children", "2", dir); code != exitPerson || !strings.Contains(out, "3 photos: 3 scaled") {
		t.Fatalf("exit %d: %s", code, out)
	}
	first := files(t, filepath.Join(dir, "paper"))
	if _, out := fieldjacket("run", "--children", "1", dir); !strings.Contains(out, "done anew: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", out)
	}
	if err := os.WriteFile(filepath.Join(dir, "diary.csv"), []byte("date,numbers,what,by\n2026-02-11,14,glued,AB\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, out := fieldjacket("run", dir); !strings.Contains(out, "done anew: 0 photos, 0 plates, 1 packet\n") {
		t.Errorf("a diary line cost more than one packet: %s", out)
	}
	if err := os.WriteFile(filepath.Join(dir, "photos.csv"), []byte("photos,jackets,view,by\nIMG_0002,15,gridded,AB\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, out := fieldjacket("run", dir); !strings.Contains(out, "1 plate, 2 packets") {
		t.Errorf("a photo given to another jacket: %s", out)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "paper/plates/14/*IMG_0002*")); len(left) > 0 {
		t.Errorf("plates under a wrong jacket are left: %v", left)
	}
	same(t, "originals", originals, files(t, filepath.Join(dir, "photos")))

	// the same bytes with one child, from nothing
	for _, f := range []string{"diary.csv", "photos.csv"} {
		if err := os.Remove(filepath.Join(dir, f)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.RemoveAll(filepath.Join(dir, "paper")); err != nil {
		t.Fatal(err)
	}
	fieldjacket("run", "--children", "1", dir)
	same(t, "one child and two", first, files(t, filepath.Join(dir, "paper")))
}

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

// TestKilledRunGoesOn: SIGKILL at several moments of a run, then a run that
// completes: nothing half-written, the same bytes as an undisturbed one.
func TestKilledRunGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	fieldjacket("run", dir)
	want := files(t, filepath.Join(dir, "paper"))
	for i := range 6 {
		if i%4 == 0 {
			if err := os.RemoveAll(filepath.Join(dir, "paper")); err != nil {
				t.Fatal(err)
			}
		}
		program := filepath.Join(t.TempDir(), "fieldjacket")
		if err := os.Symlink(self, program); err != nil {
			t.Fatal(err)
		}
		c := exec.Command(program, "run", dir)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(150+170*i) * time.Millisecond)
		if i%2 == 0 {
			_ = c.Process.Kill()
		} else {
			_ = exec.Command("pkill", "-9", "-P", fmt.Sprint(c.Process.Pid)).Run() // its children
		}
		_ = c.Wait()
	}
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	same(t, "after kills", want, files(t, filepath.Join(dir, "paper")))
}
