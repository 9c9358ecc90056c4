//go:build linux

package offload

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestDiskFullMidway: the file that met it leaves nothing, no further one is tried at that place, and with room again the rest
// comes. A disk of memory of 64 kB is filled, which needs root.
func TestDiskFullMidway(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no disk to fill: %v", err)
	}
	defer syscall.Unmount(dir, 0)
	real := freeBytes
	defer func() { freeBytes = real }()
	freeBytes = func(string) (int64, bool) { return 0, false } // what is free is not always known
	from := card("1.jpg", strings.Repeat("a", 20_000), "2.jpg", strings.Repeat("b", 60_000), "3.jpg", "c")
	other := filepath.Join(t.TempDir(), "second")
	r := copied(t, from, filepath.Join(dir, "rka"), other)
	if r.All(0) || r.Verified(0) != 1 || !r.All(1) || !strings.Contains(r.Places[0].Stopped, syscall.ENOSPC.Error()) {
		t.Errorf("%+v", r.Places)
	}
	if got := holds(t, dir); got != "rka/1.jpg="+strings.Repeat("a", 20_000) {
		t.Errorf("the full disk holds %d bytes in %d files", len(got), strings.Count(got, "="))
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, "size=640k"); err != nil {
		t.Fatal(err)
	}
	if r = copied(t, from, filepath.Join(dir, "rka")); !r.All(0) || r.Files[0].At[0].Copied {
		t.Errorf("%+v", r)
	}
	if _, err := os.Stat(filepath.Join(dir, "rka", unfinished)); err == nil {
		t.Errorf("%s is left", unfinished)
	}
}
