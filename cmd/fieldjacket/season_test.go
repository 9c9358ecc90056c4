package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline/children"
)

// seasonWithBoard writes a season of rendered photos: boards under two
// jackets. It gives the truth at the first board's middle, in px/cm.
func seasonWithBoard(t *testing.T, dir string) (pxPerCm float64) {
	t.Helper()
	needsVision(t)
	season := newSmallSeason(t, dir, map[string]string{
		"finds.csv":   "field_number,date,what,by\n14,2026-02-11,bone,AB\n15,2026-02-11,rib,AB\n",
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n15,15,jacket,mapped\n",
		"season.toml": "name = \"invented\"\n[[reference]]\nname = \"board\"\nkind = \"checker\"\nsquares = \"7x5\"\nsquare_cm = 2\n",
	})
	shots, pxPerCm := rendered()
	for i, number := range []string{"14", "14", "15"} {
		path := season.photo(fmt.Sprintf("ann/jacket %s/gridded/IMG_%04d.JPG", number, i+1))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, shots[i], 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	return pxPerCm
}

// needsVision skips a test where there is no vision program, and fails it where
// CI is true.
func needsVision(t *testing.T) {
	t.Helper()
	if _, err := children.Find(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
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
		if err := phonefile.WritePhoto(&b, picture, 90, phonefile.Tags{Make: "Anvil", Model: "Phone 3", Local: fmt.Sprintf("2026:02:11 10:0%d:00", i), Offset: "-03:00", Focal35Mm: 26}); err != nil {
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

// flat is what was said, however its lines are broken.
func flat(out string) string { return strings.Join(strings.Fields(out), " ") }

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
	if _, out := fieldjacket("run", "--children", "1", dir); !strings.Contains(out, "updated: 0 photos, 0 plates, 0 packets") {
		t.Errorf("a second run did something: %s", out)
	}
	if err := os.WriteFile(filepath.Join(dir, "diary.csv"), []byte("date,numbers,what,by\n2026-02-11,14,glued,AB\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, out := fieldjacket("run", dir); !strings.Contains(out, "updated: 0 photos, 0 plates, 1 packet\n") {
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
