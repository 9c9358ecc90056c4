package offload

import (
	"os"

	"golang.org/x/sys/unix"
)

// These are variables, so that tests can have a disk full, spoilt or pulled out.

// freeBytes is what a user may still write to the disk that holds dir.
var freeBytes = func(dir string) (free int64, ok bool) {
	var s unix.Statfs_t
	if err := unix.Statfs(dir, &s); err != nil || s.Bsize <= 0 {
		return 0, false
	}
	return int64(s.Bavail) * int64(s.Bsize), true
}

// forget asks the system to drop what it remembers of a file that is on the disk, so that the next read comes from there. The
// drive itself may still remember it.
var forget = func(f *os.File) { _ = unix.Fadvise(int(f.Fd()), 0, 0, unix.FADV_DONTNEED) }

// diskOf tells the disk of a folder from others.
var diskOf = func(dir string) (id uint64, ok bool) {
	var at unix.Stat_t
	if err := unix.Stat(dir, &at); err != nil {
		return 0, false
	}
	return uint64(at.Dev), true
}
