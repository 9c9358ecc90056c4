package main

import (
	"os"
	"path/filepath"
	"unsafe"

	"golang.org/x/sys/windows"
)

var consoleProcesses = windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList")

// fromDesktop replaces the missing arguments of a program that was started by
// a double click: its console then is its own and of no other process
// (Microsoft Learn, GetConsoleProcessList). done: it has said what to do in a
// window, and there is nothing to run.
func fromDesktop(args []string) (instead []string, done bool) {
	var ids [2]uint32
	n, _, _ := consoleProcesses.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	if len(args) > 0 || n != 1 {
		return args, false
	}
	self, err := os.Executable()
	if err != nil {
		return args, false
	}
	found, words := desktopArgs(filepath.Dir(self))
	if found != nil {
		return found, false
	}
	text, err := windows.UTF16PtrFromString(words)
	if err != nil {
		return args, false
	}
	title, err := windows.UTF16PtrFromString("fieldjacket")
	if err != nil {
		return args, false
	}
	_, _ = windows.MessageBox(0, text, title, windows.MB_OK|windows.MB_ICONINFORMATION)
	return nil, true
}
