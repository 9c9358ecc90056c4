package keep_test

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"fieldjacket/pipeline/keep"
)

// names lists what is in dir, hidden files included.
func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

func mustHold(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Fatalf("%s holds %q (%v), want %q", path, got, err, want)
	}
}

func TestWriteReplacesWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	for _, text := range []string{"first, and longer", "second"} {
		if err := keep.Bytes(path, 0o640, []byte(text)); err != nil {
			t.Fatal(err)
		}
		mustHold(t, path, text)
	}
	if got := names(t, dir); got != "a.txt" {
		t.Errorf("left in the folder: %s", got)
	}
	if at, _ := os.Stat(path); runtime.GOOS != "windows" && at.Mode().Perm()&^0o640 != 0 {
		t.Errorf("mode %v, want no more than 0640", at.Mode())
	}
}

func TestWriteFailureLeavesOldFile(t *testing.T) {
	broken := errors.New("broken")
	fills := map[string]func(io.Writer) error{
		"error": func(w io.Writer) error { fmt.Fprint(w, "half"); return broken },
		"panic": func(w io.Writer) error { fmt.Fprint(w, "half"); panic(broken) },
	}
	for name, fill := range fills {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "a.txt")
			if err := keep.Bytes(path, 0o644, []byte("old")); err != nil {
				t.Fatal(err)
			}
			err := func() (err error) {
				defer func() {
					if p := recover(); p != nil {
						err = p.(error)
					}
				}()
				return keep.Write(path, 0o644, fill)
			}()
			if !errors.Is(err, broken) {
				t.Errorf("error %v, want %v in it", err, broken)
			}
			mustHold(t, path, "old")
			if got := names(t, dir); got != "a.txt" {
				t.Errorf("left in the folder: %s", got)
			}
		})
	}
}

func TestWriteOverFolderFails(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "taken")
	if err := os.MkdirAll(filepath.Join(path, "full"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := keep.Bytes(path, 0o644, nil); err == nil {
		t.Error("a folder was replaced by a file")
	}
	if got := names(t, dir); got != "taken" {
		t.Errorf("left in the folder: %s", got)
	}
}

func TestWriteLongName(t *testing.T) {
	path := filepath.Join(t.TempDir(), strings.Repeat("n", 251)+".jpg") // 255 bytes: the most most systems allow
	if err := keep.Bytes(path, 0o644, []byte("x")); err != nil {
		t.Error(err)
	}
}

func TestWritersOfOneFileDoNotMix(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.txt")
	texts := map[string]bool{}
	var wg sync.WaitGroup
	for i := range 8 {
		text := strings.Repeat(string(rune('a'+i)), 100_000+i)
		texts[text] = true
		wg.Go(func() {
			if err := keep.Bytes(path, 0o644, []byte(text)); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	got, err := os.ReadFile(path)
	if err != nil || !texts[string(got)] {
		t.Errorf("%d bytes (%v) that no single writer wrote", len(got), err)
	}
}

func TestCommit(t *testing.T) {
	dir := t.TempDir()
	final := filepath.Join(dir, "plate.jpg")
	if err := os.WriteFile(final, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := keep.Commit(keep.TempFor(final), final); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("commit of nothing: %v", err)
	}
	mustHold(t, final, "old")

	temp := keep.TempFor(final)
	if err := os.WriteFile(temp, []byte("new"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := keep.Commit(temp, final); err != nil {
		t.Fatal(err)
	}
	mustHold(t, final, "new")

	link := keep.TempFor(final)
	if err := os.Symlink(final, link); err == nil {
		if err := keep.Commit(link, filepath.Join(dir, "other.jpg")); err == nil {
			t.Error("a link was committed")
		}
	}
	mustHold(t, final, "new")
}

// TestPlaceTakesNoName: a file gets a free name, and never that of another.
func TestPlaceTakesNoName(t *testing.T) {
	dir := t.TempDir()
	final := filepath.Join(dir, "IMG_0001.JPG")
	for i, text := range []string{"first", "second"} {
		temp := keep.TempFor(final)
		if err := os.WriteFile(temp, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		err := keep.Place(temp, final)
		if i == 0 && err != nil || i == 1 && !errors.Is(err, os.ErrExist) {
			t.Errorf("%s: %v", text, err)
		}
		mustHold(t, final, "first")
	}
	if got := strings.Fields(names(t, dir)); len(got) != 2 { // the second one's own
		t.Errorf("left in the folder: %s", got)
	}
}

func TestSweep(t *testing.T) {
	dir := t.TempDir()
	outside := filepath.Join(t.TempDir(), "theirs.tmp")
	deep := filepath.Join(dir, "plates", "7")
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	stale := keep.TempFor(filepath.Join(deep, "a.jpg"))
	for _, path := range []string{stale, filepath.Join(deep, "b.jpg.tmp"), filepath.Join(deep, "b.jpg"), filepath.Join(deep, "tmp"), outside} {
		if err := os.WriteFile(path, []byte("x"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	os.Symlink(filepath.Dir(outside), filepath.Join(dir, "link"))
	removed, err := keep.Sweep(dir)
	if err != nil || removed != 2 {
		t.Errorf("removed %d (%v), want 2", removed, err)
	}
	if got := names(t, deep); got != "b.jpg tmp" {
		t.Errorf("left: %s, want b.jpg tmp", got)
	}
	mustHold(t, outside, "x")
	if removed, err := keep.Sweep(filepath.Join(dir, "not here")); removed != 0 || err != nil {
		t.Errorf("missing folder: %d, %v", removed, err)
	}
}
