package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/keep"
)

// TestKilledRunGoesOn: SIGKILL at several moments of a run, then a run that
// completes: nothing half-written, the same bytes as an undisturbed one.
func TestKilledRunGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	originals := files(t, filepath.Join(dir, "photos"))
	fieldjacket("run", dir)
	want := files(t, filepath.Join(dir, "paper"))
	for i := range 6 {
		if i%4 == 0 {
			if err := os.RemoveAll(filepath.Join(dir, "paper")); err != nil {
				t.Fatal(err)
			}
		}
		program := filepath.Join(t.TempDir(), "fieldjacket")
		if err := os.Symlink(self, program); err != nil {
			t.Fatal(err)
		}
		c := exec.Command(program, "run", dir)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(150+170*i) * time.Millisecond)
		if i%2 == 0 {
			_ = c.Process.Kill()
		} else {
			killChildren(t, c.Process.Pid)
		}
		_ = c.Wait()
	}
	if code, out := fieldjacket("run", dir); code != exitPerson {
		t.Fatalf("exit %d: %s", code, out)
	}
	same(t, "after kills", want, files(t, filepath.Join(dir, "paper")))
	same(t, "originals", originals, files(t, filepath.Join(dir, "photos")))
	err = filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
		if strings.HasSuffix(path, keep.Suffix) {
			t.Errorf("%s is left half-written", path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// killChildren ends the vision children of a process, which Linux lists.
func killChildren(t *testing.T, pid int) {
	t.Helper()
	lists, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/children", pid))
	if err != nil || len(lists) == 0 && runtime.GOOS != "linux" {
		t.Skip("this system does not list a process's children: ", err)
	}
	for _, list := range lists { // none: the run has ended
		words, _ := os.ReadFile(list) // a thread that has ended
		for _, word := range strings.Fields(string(words)) {
			if child, err := strconv.Atoi(word); err == nil {
				if p, err := os.FindProcess(child); err == nil {
					_ = p.Kill() // it may have ended
				}
			}
		}
	}
}
