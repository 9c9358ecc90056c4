package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fieldjacket/pipeline/folder"
)

// TestPartsGiveTheSameBytes: a season looked at in parts that run at once, overlap, are killed and repeated, then run, beside the same
// season run alone. A photo has a copy with other bytes of its name, so that it lies in another part.
func TestPartsGiveTheSameBytes(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "season")
	seasonWithBoard(t, dir)
	for original := range files(t, filepath.Join(dir, "photos")) {
		content, err := os.ReadFile(filepath.Join(dir, "photos", filepath.FromSlash(original)))
		if err != nil {
			t.Fatal(err)
		}
		for i := range 3 {
			if err := os.WriteFile(filepath.Join(dir, "photos", fmt.Sprintf("copy-%d-%s", i, filepath.Base(original))), content, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		break
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "fieldjacket")
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	fieldjacket("run", dir)
	want := files(t, filepath.Join(dir, "paper"))
	if err := os.RemoveAll(filepath.Join(dir, "paper")); err != nil {
		t.Fatal(err)
	}
	killed := exec.Command(program, "look", dir, "--part", "1/3")
	if err := killed.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(400 * time.Millisecond)
	_ = killed.Process.Kill()
	_ = killed.Wait()
	var all sync.WaitGroup
	for _, k := range []int{1, 2, 3, 2} {
		all.Go(func() {
			if out, err := exec.Command(program, "look", dir, "--part", fmt.Sprintf("%d/3", k), "--children", "1").CombinedOutput(); err != nil {
				t.Errorf("part %d: %v: %s", k, err, out)
			}
		})
	}
	all.Wait()
	for _, c := range []struct {
		lock    func() (func(), error)
		command []string
	}{{folder.Dir(dir).Lock, []string{"look", dir, "--part", "1/3"}}, {folder.Dir(dir).LockShared, []string{"run", dir}}} {
		unlock, err := c.lock()
		if err != nil {
			t.Fatal(err)
		}
		if code, out := fieldjacket(c.command...); code != exitUsage || !strings.Contains(out, "another fieldjacket is at work") {
			t.Errorf("%s beside another: exit %d: %s", c.command[0], code, out)
		}
		unlock()
	}
	code, out := fieldjacket("run", "--json", dir)
	if code != exitPerson || !strings.Contains(out, `"looked":0`) {
		t.Errorf("exit %d, and something was looked at again: %s", code, out)
	}
	same(t, "after parts", want, files(t, filepath.Join(dir, "paper")))
}

// TestPartsRefused: what is no part.
func TestPartsRefused(t *testing.T) {
	for _, part := range []string{"0/3", "4/3", "3", "x/3", "1/0", "1/100000"} {
		if code, out := fieldjacket("look", t.TempDir(), "--part", part); code != exitUsage || !strings.Contains(out, "--part") {
			t.Errorf("--part %s: exit %d: %s", part, code, out)
		}
	}
}
