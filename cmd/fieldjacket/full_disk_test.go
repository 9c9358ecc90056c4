//go:build linux

package main

import (
	"os"
	"os/signal"
	"strconv"
	"syscall"
)

// fullAt names the variable by which a script makes the disk full for one command: no file may grow beyond so many bytes
// (setrlimit(2), RLIMIT_FSIZE), which fails a write as a full disk does.
const fullAt = "TEST_FULL_AT_BYTES"

func init() {
	n, err := strconv.ParseUint(os.Getenv(fullAt), 10, 64)
	if err != nil {
		return
	}
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n}); err != nil {
		panic(err)
	}
}
