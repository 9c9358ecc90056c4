//go:build unix

package geotag

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestAPipeIsNoTrack: it is told, and nobody waits for it.
func TestAPipeIsNoTrack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "day.gpx")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	if tracks, notices := readTracks([]string{path}); len(tracks) > 0 || len(notices) != 1 || !strings.Contains(notices[0], "day.gpx: not a file") {
		t.Errorf("%v, %q", tracks, notices)
	}
	if contentOf(path) != "" {
		t.Error("it has content")
	}
}
