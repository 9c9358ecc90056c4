package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"

	"github.com/gofrs/flock"
	"github.com/rogpeppe/go-internal/testscript"
)

// exits is the script command `exits CODE PROGRAM ARGS...`: it runs a program
// and holds its exit code, which `! exec` does not.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var ended *exec.ExitError
		if !errors.As(err, &ended) {
			ts.Fatalf("%v", err)
		}
		got = ended.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// hold is the script command `hold DIR`: another program is at work on the
// season until the script ends.
func hold(ts *testscript.TestScript, _ bool, args []string) {
	paper := ts.MkAbs(filepath.Join(args[0], "paper"))
	ts.Check(os.MkdirAll(paper, 0o755))
	l := flock.New(filepath.Join(paper, ".lock"))
	held, err := l.TryLock()
	ts.Check(err)
	if !held {
		ts.Fatalf("%s is held already", paper)
	}
	ts.Defer(func() { _ = l.Unlock() })
}
