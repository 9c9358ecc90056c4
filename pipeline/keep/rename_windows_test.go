package keep

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/sys/windows"
)

// TestReplacesOnWindows: a file marked read-only, as programs that keep folders
// in step leave them, one whose path is longer than 260 characters, and one
// in a folder with umlauts and spaces are all replaced.
func TestReplacesOnWindows(t *testing.T) {
	for name, folder := range map[string]string{
		"read-only": "", "umlauts and spaces": "Grüße aus dem Lager 2026", "long": strings.Repeat(strings.Repeat("lang", 12)+"/", 6),
	} {
		dir := filepath.Join(t.TempDir(), filepath.FromSlash(folder))
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		path := filepath.Join(dir, "packet.pdf")
		for _, content := range []string{"first", "second"} {
			if err := Bytes(path, 0o644, []byte(content)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if err := os.Chmod(path, 0o444); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != "second" {
			t.Errorf("%s: %q, %v", name, got, err)
		}
		writable(path) // so that the test's folder can be cleared
	}
}

// TestHeldFileIsNamed: a file that another program holds, as a spreadsheet
// does, stays as it is, and the error says what to do.
func TestHeldFileIsNamed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "collection.xlsx")
	if err := os.WriteFile(path, []byte("held"), 0o644); err != nil {
		t.Fatal(err)
	}
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		t.Fatal(err)
	}
	held, err := windows.CreateFile(name, windows.GENERIC_READ|windows.GENERIC_WRITE, windows.FILE_SHARE_READ, nil, windows.OPEN_EXISTING, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := Bytes(path, 0o644, []byte("new")); !errors.Is(err, ErrOpenElsewhere) {
		t.Errorf("held: %v", err)
	}
	if err := windows.CloseHandle(held); err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != "held" {
		t.Errorf("%q, %v", got, err)
	}
	left, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"+Suffix))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %q, %v", left, err)
	}
	if err := Bytes(path, 0o644, []byte("new")); err != nil {
		t.Errorf("let go: %v", err)
	}
}
