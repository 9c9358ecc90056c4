package keep_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/pipeline/keep"
)

// TestReadTellsNothingThereFromNotReadable: only a name that nothing has is a file that does not exist.
func TestReadTellsNothingThereFromNotReadable(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	if err := os.WriteFile(at("whole"), []byte("123456"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(at("folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	if got, err := keep.Read(at("whole"), 6); err != nil || string(got) != "123456" {
		t.Errorf("whole: %q, %v", got, err)
	}
	if got, err := keep.Read(at("whole"), 3); err != nil || string(got) != "1234" {
		t.Errorf("of three bytes at most: %q, %v, want one more so that it is seen", got, err)
	}
	if _, err := keep.Read(at("none"), 6); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("nothing there: %v", err)
	}
	if _, err := keep.Read(at("folder"), 6); err == nil || errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "a folder") {
		t.Errorf("a folder: %v", err)
	}
	if os.Symlink("card/whole", at("link")) == nil {
		if _, err := keep.Read(at("link"), 6); err == nil || errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "a link to card") {
			t.Errorf("a link that leads nowhere: %v", err)
		}
	}
}
