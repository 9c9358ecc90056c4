package keep_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/pipeline/keep"
)

// TestOnlyOurOwnIsReplaced: a name that is free, or a file that is known as ours; no link to one, no folder.
func TestOnlyOurOwnIsReplaced(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for name, content := range map[string]string{"ours": "ours, 1", "theirs": "a photo", "empty": ""} {
		if err := os.WriteFile(at(name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(at("ours"), at("link")); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"new": true, "ours": true, "theirs": false, "empty": false, "link": false, ".": false, "no folder/new": true} {
		err := keep.CanReplace(at(name), func(content []byte) bool { return bytes.HasPrefix(content, []byte("ours")) })
		if (err == nil) != want {
			t.Errorf("%s: %v, want it replaced: %v", name, err, want)
		}
	}
}
