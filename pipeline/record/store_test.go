package record_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// TestARecordIsLoadedOrItIsToldWhyNot: one of any length that can be saved comes back, one that is no whole record counts as none,
// and one that the disk does not give is an error: with it the photo's plates would be forgotten.
func TestARecordIsLoadedOrItIsToldWhyNot(t *testing.T) {
	paper := t.TempDir()
	if err := os.Mkdir(filepath.Join(paper, "records"), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, bytes := range []int{100, 80_000, 2_000_000} {
		r := record.New("ann/IMG_0001.JPG")
		r.AddNote("fit", "", false, "%s", strings.Repeat("x", bytes))
		saved := r.Save(paper)
		all, err := record.Load(paper)
		if err != nil {
			t.Fatal(err)
		}
		if loaded := len(all) == 1 && len(all[0].Notes[0].Text) == bytes; (saved == nil) != loaded {
			t.Errorf("a record of %d bytes: saved %v, loaded %v", bytes, saved, loaded)
		}
	}
	path := filepath.Join(paper, "records", record.New("ann/IMG_0001.JPG").Name()+".json")
	if err := os.WriteFile(path, []byte(`{"photo":{"file":"ann/IMG_`), 0o600); err != nil {
		t.Fatal(err)
	}
	if all, err := record.Load(paper); err != nil || len(all) > 0 {
		t.Errorf("half a record: %v, %v", all, err)
	}
	if err := errors.Join(os.Remove(path), os.Symlink("a disk that is not there", path)); err != nil {
		t.Fatal(err)
	}
	if all, err := record.Load(paper); !errors.Is(err, register.ErrUnread) {
		t.Errorf("a record that cannot be read: %v, %v", all, err)
	}
}
