package keep_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/keep"
)

// TestSumsKnowDamage: a file that was cut, changed within, emptied or replaced by something else, whatever its date says; not one
// that was copied, touched or finished anew.
func TestSumsKnowDamage(t *testing.T) {
	put := func(t *testing.T, path, text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	long := time.Date(2026, 2, 11, 18, 0, 0, 0, time.UTC)
	for name, c := range map[string]struct {
		change func(t *testing.T, path string, sums keep.Sums)
		broken bool
	}{
		"nothing": {func(*testing.T, string, keep.Sums) {}, false},
		"cut":     {func(t *testing.T, path string, _ keep.Sums) { put(t, path, "a plate of ja") }, true},
		"a byte":  {func(t *testing.T, path string, _ keep.Sums) { put(t, path, "a plate of Jacket 14") }, true},
		"cut, its date put back": {func(t *testing.T, path string, _ keep.Sums) {
			at, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			put(t, path, "a plate of ja")
			if err := os.Chtimes(path, at.ModTime(), at.ModTime()); err != nil {
				t.Fatal(err)
			}
		}, true},
		"emptied": {func(t *testing.T, path string, _ keep.Sums) { put(t, path, "") }, true},
		"a folder": {func(t *testing.T, path string, _ keep.Sums) {
			if err := os.Remove(path); err != nil {
				t.Fatal(err)
			}
			if err := os.Mkdir(path, 0o755); err != nil {
				t.Fatal(err)
			}
		}, true},
		"touched": {func(t *testing.T, path string, _ keep.Sums) {
			if err := os.Chtimes(path, long, long); err != nil {
				t.Fatal(err)
			}
		}, false},
		"taken away": {func(t *testing.T, path string, _ keep.Sums) {
			if err := os.Remove(path); err != nil {
				t.Fatal(err)
			}
		}, false},
		"finished anew": {func(t *testing.T, path string, sums keep.Sums) {
			put(t, path, "another plate")
			if err := sums.Add("plates/14 a.jpg"); err != nil {
				t.Fatal(err)
			}
		}, false},
		"a list that was cut, and finished anew": {func(t *testing.T, path string, sums keep.Sums) {
			content, err := os.ReadFile(sums.File)
			if err != nil {
				t.Fatal(err)
			}
			put(t, sums.File, string(content[:len(content)-8]))
			if err := sums.Add("plates/14 a.jpg"); err != nil {
				t.Fatal(err)
			}
			put(t, path, "another plate")
		}, true},
		"behind a line of 70000 letters": {func(t *testing.T, path string, sums keep.Sums) {
			content, err := os.ReadFile(sums.File)
			if err != nil {
				t.Fatal(err)
			}
			put(t, sums.File, strings.Repeat("x", 70000)+"\n"+string(content))
			put(t, path, "another plate")
		}, true},
		"a list that was cut": {func(t *testing.T, path string, sums keep.Sums) {
			put(t, path, "another plate")
			content, err := os.ReadFile(sums.File)
			if err != nil {
				t.Fatal(err)
			}
			put(t, sums.File, string(content[:len(content)-8]))
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			sums := keep.Sums{Dir: dir, File: filepath.Join(dir, "files.sums")}
			path := filepath.Join(dir, "plates", "14 a.jpg")
			if err := os.Mkdir(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			put(t, path, "a plate of jacket 14")
			put(t, filepath.Join(dir, "sound"), "x")
			for _, file := range []string{"sound", "plates/14 a.jpg"} {
				if err := sums.Add(file); err != nil {
					t.Fatal(err)
				}
			}
			c.change(t, path, sums)
			for range 2 { // damage is told until the file is finished anew
				broken, err := sums.Broken()
				if err != nil || slices.Contains(broken, "plates/14 a.jpg") != c.broken || slices.Contains(broken, "sound") {
					t.Errorf("broken: %q, %v; want the plate told: %v", broken, err, c.broken)
				}
			}
		})
	}
}

// TestSumsStayBelowTheirFolder: a list that was tampered with names no file outside, and a line that is none is passed over.
func TestSumsStayBelowTheirFolder(t *testing.T) {
	dir := t.TempDir()
	paper := filepath.Join(dir, "paper")
	if err := os.Mkdir(paper, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{filepath.Join(dir, "register.xlsx"), filepath.Join(paper, "a")} {
		if err := os.WriteFile(path, []byte("x"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	zero := strings.Repeat("0", 64)
	list := zero + " 1 1 \"../register.xlsx\"\n" + zero + " 1 1 \"a\"\n" + zero[1:] + " 1 1 \"a\"\n" + zero + " one 1 \"a\"\n" + zero + " 1 one \"a\"\n" + zero + " 1 1 a\n" + zero + " 1 1\n"
	sums := keep.Sums{Dir: paper, File: filepath.Join(paper, "files.sums")}
	if err := os.WriteFile(sums.File, []byte(list), 0o644); err != nil {
		t.Fatal(err)
	}
	if broken, err := sums.Broken(); err != nil || !slices.Equal(broken, []string{"a"}) {
		t.Errorf("broken: %q, %v", broken, err)
	}
}
