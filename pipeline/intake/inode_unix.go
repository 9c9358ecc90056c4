//go:build unix

package intake

import (
	"io/fs"
	"syscall"
)

func inodeOf(info fs.FileInfo) uint64 {
	if at, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(at.Ino)
	}
	return 0
}
