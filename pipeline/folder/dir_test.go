package folder

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// TestOneWriterATime, and what holds positions is closed to others.
func TestOneWriterATime(t *testing.T) {
	d := Dir(t.TempDir())
	unlock, err := d.Lock()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Lock(); !errors.Is(err, ErrBusy) {
		t.Errorf("a second lock: %v, want %v", err, ErrBusy)
	}
	unlock()
	unlock, err = d.Lock()
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	if runtime.GOOS == "windows" {
		return
	}
	for folder, want := range map[string]os.FileMode{"records": 0o700, "locality": 0o700, "packets": 0o755} {
		at, err := os.Stat(d.Paper(folder))
		if err != nil || at.Mode().Perm()&^want != 0 {
			t.Errorf("%s: %v, %v, want no more than %v", folder, at.Mode(), err, want)
		}
	}
	if Mode("records/1.json") != 0o600 || Mode("plates/1.jpg") != 0o644 {
		t.Error("modes of files")
	}
}

// TestNothingIsRemovedOutsideOfPaper, whatever a file's name is.
func TestNothingIsRemovedOutsideOfPaper(t *testing.T) {
	d := locked(t)
	photo := filepath.Join(string(d), "photos", "1.jpg")
	if err := errors.Join(os.MkdirAll(d.Photos(), 0o755), os.WriteFile(photo, []byte("x"), 0o644)); err != nil {
		t.Fatal(err)
	}
	if err := d.Remove("../photos/1.jpg"); err == nil || !strings.Contains(err.Error(), "not below") {
		t.Errorf("%v", err)
	}
	if _, err := os.Stat(photo); err != nil {
		t.Fatal(err)
	}
	if err := d.RemoveAll("plates/none.jpg", "packets/none.pdf"); err != nil {
		t.Errorf("files that are not there: %v", err)
	}
}

// TestFingerprintChanges with a sheet, a photo's folder and the records, and stays when nothing does.
func TestFingerprintChanges(t *testing.T) {
	d := locked(t)
	write := func(parts ...string) {
		t.Helper()
		path := filepath.Join(append([]string{string(d)}, parts...)...)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(strings.Repeat("x", len(path))), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	last := ""
	for _, step := range [][]string{{"finds.csv"}, {"photos", "ann", "1.jpg"}, {"words.log"}, {"earlier", "a", "14", "carried.json"}, {"photos", "ann", "b", "2.jpg"}} {
		write(step...)
		now, err := d.Fingerprint()
		if err != nil || now == last {
			t.Errorf("after %v: %q, was %q, %v", step, now, last, err)
		}
		if again, _ := d.Fingerprint(); again != now {
			t.Errorf("after %v: %q and then %q", step, now, again)
		}
		last = now
	}
}
