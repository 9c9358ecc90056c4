//go:build unix

package keep_test

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"fieldjacket/pipeline/keep"
)

// TestReadDoesNotWaitForAPipe that nobody writes to.
func TestReadDoesNotWaitForAPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "words.log")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	if _, err := keep.Read(path, 6); err == nil || !strings.Contains(err.Error(), "a named pipe") {
		t.Errorf("a pipe: %v", err)
	}
}
