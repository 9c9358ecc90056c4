//go:build cgo

package main

import "golang.org/x/sys/unix"

func moveOutput() (uintptr, error) {
	fd, err := unix.FcntlInt(1, unix.F_DUPFD_CLOEXEC, 3)
	if err != nil {
		return 0, err
	}
	return uintptr(fd), unix.Dup3(2, 1, 0)
}

// mostBytes is the memory that a child may have: one picture of 250 million
// pixels in the three copies that turning it or a HEIC takes.
const mostBytes = 4 << 30

// boundMemory has the kernel refuse the process more: a file that decodes to
// far more than it declares ends its child, not the machine.
func boundMemory() {
	_ = unix.Setrlimit(unix.RLIMIT_DATA, &unix.Rlimit{Cur: mostBytes, Max: mostBytes})
}

// dieWithParent has the kernel end this process when its parent ends, however
// it ends; elsewhere the end of standard input tells.
func dieWithParent() { _ = unix.Prctl(unix.PR_SET_PDEATHSIG, uintptr(unix.SIGKILL), 0, 0, 0) }
