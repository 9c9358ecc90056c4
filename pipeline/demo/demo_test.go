package demo

import (
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fieldjacket/calibrate/scene/phonefile"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/registerfile"
)

// TestSheetsReadBack: the season's register has no fault, and its photos
// belong where their folders say.
func TestSheetsReadBack(t *testing.T) {
	dir := t.TempDir()
	if err := registerIn(dir); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "season.toml"), []byte(seasonTOML), 0o644); err != nil {
		t.Fatal(err)
	}
	r, err := registerfile.Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Problems {
		t.Error(p)
	}
	files := make([]string, len(shots))
	for i, s := range shots {
		files[i] = s.file
	}
	belongs, problems := assign.Photos(r, nil, files)
	for _, p := range problems {
		t.Error(p)
	}
	var seen []assign.Shot // the placard as it will be read
	for _, s := range shots {
		taken, err := time.Parse("2006:01:02 15:04:05", s.local)
		if err != nil {
			t.Fatal(err)
		}
		shot := assign.Shot{File: s.file, Taken: taken, Model: "Phone 3"}
		if s.placard != "" {
			shot.Codes = []string{assign.CodeText(s.placard)}
		}
		seen = append(seen, shot)
	}
	belongs = assign.Coded(r, r.Season.PropagateFor, r.Season.CarryPause, belongs, seen)
	none, conflicts := 0, 0
	for i, b := range belongs {
		if len(b.Jackets) == 0 {
			none++
			if b.Contradicts() {
				conflicts++
			}
			continue
		}
		if _, rest, ok := strings.Cut(files[i], "jacket "); ok {
			if number, _, _ := strings.Cut(rest, "/"); len(b.Jackets) != 1 || b.Jackets[0] != number {
				t.Errorf("%s belongs to %v", files[i], b.Jackets)
			}
		}
	}
	if none != made.Unassigned || conflicts != made.Conflicts {
		t.Errorf("%d photos without a jacket, %d conflicts; made for %d and %d", none, conflicts, made.Unassigned, made.Conflicts)
	}
}

// TestTagsReadBack: what the rendered photos say of themselves is what was
// meant, the turned one upright.
func TestTagsReadBack(t *testing.T) {
	for _, s := range []shot{shots[0], shots[8], shots[16]} {
		dir := t.TempDir()
		w, h := 40, 30
		if s.turned {
			w, h = h, w
		}
		f, err := os.Create(filepath.Join(dir, "a.jpg"))
		if err != nil {
			t.Fatal(err)
		}
		if err := phonefile.WritePhoto(f, image.NewRGBA(image.Rect(0, 0, w, h)), 80, s.tags()); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		photo, c, err := intake.Read(dir, "a.jpg", nil)
		if err != nil {
			t.Fatal(err)
		}
		if photo.WidthPx != w || photo.HeightPx != h {
			t.Errorf("%s: upright %d x %d, want %d x %d", s.file, photo.WidthPx, photo.HeightPx, w, h)
		}
		if c.OffsetMin == nil || *c.OffsetMin != -180 || c.Local == nil || c.Focal35Mm == nil || *c.Focal35Mm != 26 {
			t.Errorf("%s: %+v", s.file, c)
		}
		if s.noFix != (c.Position == nil) {
			t.Errorf("%s: position %v", s.file, c.Position)
		}
		if !s.noFix && math.Abs(c.Position.LatDeg-s.tags().Position.LatDeg) > 1e-7 {
			t.Errorf("%s: latitude %.8f, want %.8f", s.file, c.Position.LatDeg, s.tags().Position.LatDeg)
		}
	}
}

// TestOthersFolder is refused: nothing of a season of somebody's own is
// written over.
func TestOthersFolder(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "season.toml"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := claim(dir); err == nil {
		t.Error("a folder with a season in it was taken for the demo")
	}
}
