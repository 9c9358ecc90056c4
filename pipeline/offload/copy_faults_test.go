package offload

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A failing source gives so many bytes of the files that it names, then a fault; pulled, it gives nothing from then on.
type failing struct {
	fs.FS
	at     map[string]int
	pulls  bool
	pulled *bool
}

func (f failing) Open(name string) (fs.File, error) {
	if *f.pulled {
		return nil, &fs.PathError{Op: "open", Path: name, Err: syscall.ENODEV}
	}
	file, err := f.FS.Open(name)
	if n, ok := f.at[name]; ok && err == nil {
		return &failingFile{file, n, f}, nil
	}
	return file, err
}

type failingFile struct {
	fs.File
	left int
	of   failing
}

func (f *failingFile) Read(b []byte) (int, error) {
	if f.left == 0 {
		*f.of.pulled = f.of.pulls
		return 0, &fs.PathError{Op: "read", Path: "x", Err: syscall.EIO}
	}
	n, err := io.LimitReader(f.File, int64(f.left)).Read(b[:min(len(b), f.left)])
	f.left -= n
	return n, err
}

// TestUnreadableFileIsNamed: the others come over, nothing half is left, and not all is said to be there.
func TestUnreadableFileIsNamed(t *testing.T) {
	root := t.TempDir()
	dir, second := filepath.Join(root, "rka"), filepath.Join(root, "second")
	from := card("IMG_0001.JPG", "first", "IMG_0002.JPG", "second", "IMG_0003.JPG", "third")
	r := copied(t, failing{from, map[string]int{"IMG_0002.JPG": 3}, false, new(bool)}, dir, second)
	for i, d := range []string{dir, second} {
		mustHold(t, d, "IMG_0001.JPG=first IMG_0003.JPG=third")
		if r.All(i) || r.Verified(i) != 2 {
			t.Errorf("place %d: %d verified, all: %v", i, r.Verified(i), r.All(i))
		}
	}
	if f := r.Files[1]; r.Gone || f.Fault != syscall.EIO.Error() {
		t.Errorf("%+v, want %q", f, syscall.EIO)
	}
	// a file that ends before its length, as on a card that was pulled while the phone wrote
	if r = copied(t, shorter{from}, filepath.Join(root, "shorter")); r.All(0) || r.Verified(0) != 0 || !strings.Contains(r.Files[0].Fault, "it gave 4 bytes and was listed with 5") {
		t.Errorf("%+v", r.Files[0])
	}
	mustHold(t, filepath.Join(root, "shorter"), "")
}

// A shorter source has files that end one byte early.
type shorter struct{ fs.FS }

func (s shorter) Open(name string) (fs.File, error) {
	f, err := s.FS.Open(name)
	if info, _ := f.Stat(); err == nil && !info.IsDir() {
		return shortFile{f, io.LimitReader(f, info.Size()-1)}, nil
	}
	return f, err
}

type shortFile struct {
	fs.File
	r io.Reader
}

func (f shortFile) Read(b []byte) (int, error) { return f.r.Read(b) }

// TestPulledCable: what was whole stays, nothing half does, and the same again brings the rest, each once.
func TestPulledCable(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "rka")
	from := card("IMG_0001.JPG", "first", "IMG_0002.JPG", "second", "IMG_0003.JPG", "third")
	r := copied(t, failing{from, map[string]int{"IMG_0002.JPG": 3}, true, new(bool)}, dir)
	if !r.Gone || r.All(0) || r.Verified(0) != 1 {
		t.Errorf("gone: %v, all: %v, %d verified", r.Gone, r.All(0), r.Verified(0))
	}
	mustHold(t, dir, "IMG_0001.JPG=first")
	before(t, dir, unfinished+"/.keep-1-1.tmp", "sec") // a kill leaves it
	before(t, dir, "mine.tmp", "a person's")
	r = copied(t, from, dir)
	if !r.All(0) || r.Files[0].At[0].Copied || !r.Files[1].At[0].Copied {
		t.Errorf("%+v", r.Files)
	}
	mustHold(t, dir, "IMG_0001.JPG=first IMG_0002.JPG=second IMG_0003.JPG=third mine.tmp=a person's")
}

// TestInterrupted: what was whole stays.
func TestInterrupted(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "rka")
	ctx, cancel := context.WithCancel(context.Background())
	r, err := Copy(ctx, Source{files: card("1.jpg", "a", "2.jpg", "b")}, []Place{{Dir: dir}}, after{1, cancel})
	if err == nil || r.All(0) || r.Verified(0) != 1 {
		t.Errorf("%v: %+v", err, r)
	}
	mustHold(t, dir, "1.jpg=a")
	// already while the source is listed: then nothing is known of any file
	ctx, cancel = context.WithCancel(context.Background())
	from := counting{card("1.jpg", "a", "2/2.jpg", "b", "3.jpg", "c"), map[string]int{}, "2", cancel}
	if r, err := Copy(ctx, Source{files: from}, []Place{{Dir: dir}}, silent{}); err == nil || len(r.Files) > 0 {
		t.Errorf("%v: %+v", err, r.Files)
	}
}

type after struct {
	files int
	do    func()
}

func (after) Started(int) {}

func (a after) Photo(file string) {
	if file == fmt.Sprintf("%d.jpg", a.files+1) {
		a.do()
	}
}
