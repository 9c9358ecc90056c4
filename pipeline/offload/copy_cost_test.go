package offload

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// TestFlatMemory: a long file and many files take one buffer.
func TestFlatMemory(t *testing.T) {
	root := t.TempDir()
	from := filepath.Join(root, "phone")
	for i := range 60 {
		before(t, from, fmt.Sprintf("IMG_%04d.JPG", i), fmt.Sprint(i))
	}
	if err := os.Truncate(filepath.Join(from, "IMG_0000.JPG"), 48<<20); err != nil {
		t.Fatal(err)
	}
	var was, is runtime.MemStats
	runtime.ReadMemStats(&was)
	r := copied(t, os.DirFS(from), filepath.Join(root, "rka"))
	runtime.ReadMemStats(&is)
	if mb := float64(is.TotalAlloc-was.TotalAlloc) / 1e6; !r.All(0) || mb > 8 {
		t.Errorf("all: %v; %.1f MB were asked for, want 8 at most", r.All(0), mb)
	}
}

// A counting source counts how often each name is opened.
type counting struct {
	fs.FS
	opened map[string]int
	when   string // this name is opened, do is done
	do     func()
}

func (c counting) Open(name string) (fs.File, error) {
	if c.opened[name]++; name == c.when && c.do != nil {
		c.do()
	}
	return c.FS.Open(name)
}

// TestSourceIsReadOnce: the second place gets what the first has, since phones are slow.
func TestSourceIsReadOnce(t *testing.T) {
	root := t.TempDir()
	from := counting{FS: card("IMG_0001.JPG", "first"), opened: map[string]int{}}
	r := copied(t, from, filepath.Join(root, "rka"), filepath.Join(root, "second"))
	if from.opened["IMG_0001.JPG"] != 1 || !r.All(1) {
		t.Errorf("opened %d times, want once; all: %v", from.opened["IMG_0001.JPG"], r.All(1))
	}
}
