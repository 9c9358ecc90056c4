//go:build cgo

package main

/*
#include <io.h>
*/
import "C"

import (
	"errors"
	"os"
	"unsafe"

	"golang.org/x/sys/windows"
)

// moveOutput does it for Windows' handles and for the C library's descriptors,
// which are kept apart there.
func moveOutput() (uintptr, error) {
	self := windows.CurrentProcess()
	var moved windows.Handle
	if err := windows.DuplicateHandle(self, windows.Handle(os.Stdout.Fd()), self, &moved, 0, false, windows.DUPLICATE_SAME_ACCESS); err != nil {
		return 0, err
	}
	if C._dup2(2, 1) != 0 {
		return 0, errors.New("standard output cannot be led to standard error")
	}
	return uintptr(moved), windows.SetStdHandle(windows.STD_OUTPUT_HANDLE, windows.Handle(os.Stderr.Fd()))
}

// dieWithParent does nothing: the parent holds its children in a job.
func dieWithParent() {}

// boundMemory puts the process into a job that lets it have no more, or leaves
// it as it is where the system does not allow that.
func boundMemory() {
	job, err := windows.CreateJobObject(nil, nil)
	if err != nil {
		return
	}
	var limits windows.JOBOBJECT_EXTENDED_LIMIT_INFORMATION
	limits.BasicLimitInformation.LimitFlags = windows.JOB_OBJECT_LIMIT_PROCESS_MEMORY
	limits.ProcessMemoryLimit = mostBytes
	if _, err := windows.SetInformationJobObject(job, windows.JobObjectExtendedLimitInformation, uintptr(unsafe.Pointer(&limits)), uint32(unsafe.Sizeof(limits))); err == nil {
		_ = windows.AssignProcessToJobObject(job, windows.CurrentProcess())
	}
}

// loaded gives the program alone: OpenCV is linked into it.
func loaded() []string {
	self, err := os.Executable()
	if err != nil {
		return nil
	}
	return []string{self}
}
