//go:build cgo && linux

package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// TestMemoryIsBounded: a process that has bounded itself cannot take more.
func TestMemoryIsBounded(t *testing.T) {
	if os.Getenv("TAKE_MEMORY") != "" {
		boundMemory()
		taken = make([]byte, mostBytes)
		return
	}
	again := exec.Command(os.Args[0], "-test.run=TestMemoryIsBounded")
	again.Env = append(os.Environ(), "TAKE_MEMORY=1")
	if words, err := again.CombinedOutput(); err == nil || !strings.Contains(string(words), "out of memory") {
		t.Errorf("%v: %.200s; want it refused", err, words)
	}
}

// taken keeps the compiler from leaving the memory out.
var taken []byte
