//go:build cgo

package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/sys/unix"
)

func moveOutput() (uintptr, error) {
	fd, err := unix.FcntlInt(1, unix.F_DUPFD_CLOEXEC, 3)
	if err != nil {
		return 0, err
	}
	return uintptr(fd), unix.Dup3(2, 1, 0)
}

// boundMemory has the kernel refuse the process more: a file that decodes to
// far more than it declares ends its child, not the machine.
func boundMemory() {
	_ = unix.Setrlimit(unix.RLIMIT_DATA, &unix.Rlimit{Cur: mostBytes, Max: mostBytes})
}

// dieWithParent has the kernel end this process when its parent ends, however
// it ends; elsewhere the end of standard input tells.
func dieWithParent() { _ = unix.Prctl(unix.PR_SET_PDEATHSIG, uintptr(unix.SIGKILL), 0, 0, 0) }

// loaded gives the program and OpenCV's libraries, by proc_pid_maps(5): the
// sixth field of a line is the file.
func loaded() []string {
	self, err := os.Executable()
	if err != nil {
		return nil
	}
	maps, err := os.ReadFile("/proc/self/maps")
	if err != nil {
		return nil
	}
	files := []string{self}
	for line := range strings.Lines(string(maps)) {
		if at := strings.IndexByte(line, '/'); at >= 0 && strings.Contains(filepath.Base(line[at:]), "opencv") {
			files = append(files, strings.TrimSuffix(line[at:], "\n"))
		}
	}
	slices.Sort(files)
	return slices.Compact(files)
}
