package offload

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"
)

var taken = time.Date(2026, 2, 11, 10, 0, 0, 0, time.UTC)

// card is a source in memory: name, content, ...
func card(files ...string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		fsys[files[i]] = &fstest.MapFile{Data: []byte(files[i+1]), ModTime: taken}
	}
	return fsys
}

type silent struct{}

func (silent) Started(int)  {}
func (silent) Photo(string) {}

// copied copies to folders and fails where that cannot even begin.
func copied(t *testing.T, from fs.FS, to ...string) Result {
	t.Helper()
	var places []Place
	for _, dir := range to {
		places = append(places, Place{Name: filepath.Base(dir), Dir: dir})
	}
	r, err := Copy(context.Background(), Source{files: from}, places, silent{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// holds lists a folder, hidden files included, as "name=content ...".
func holds(t *testing.T, dir string) string {
	t.Helper()
	var all []string
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		all = append(all, fmt.Sprintf("%s=%s", filepath.ToSlash(rel), content))
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return strings.Join(all, " ")
}

func mustHold(t *testing.T, dir, want string) {
	t.Helper()
	if got := holds(t, dir); got != want {
		t.Errorf("%s holds\n%s, want\n%s", filepath.Base(dir), got, want)
	}
}

// before puts a file into a place.
func before(t *testing.T, dir, name, content string) {
	t.Helper()
	name = filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestCopiesOnceAndKeepsDates: what is there by content, under any name and in any folder of the place, is not copied again; the
// date is the source's; nothing hidden is left.
func TestCopiesOnceAndKeepsDates(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "rka")
	before(t, dir, "jacket 21/found.jpg", "moved")
	from := card("DCIM/100APPLE/IMG_0001.JPG", "first", "DCIM/100APPLE/IMG_0002.JPG", "moved", "DCIM/100APPLE/IMG_0003.MOV", "film")
	r := copied(t, from, dir)
	want := "IMG_0001.JPG=first IMG_0003.MOV=film jacket 21/found.jpg=moved"
	mustHold(t, dir, want)
	if !r.All(0) || r.Verified(0) != 3 || r.Verified(0, Photo) != 2 || r.Files[1].At[0].Copied {
		t.Errorf("%+v", r)
	}
	if info, err := os.Stat(filepath.Join(dir, "IMG_0001.JPG")); err != nil || !info.ModTime().Equal(taken) {
		t.Errorf("date %v (%v), want %v", info.ModTime(), err, taken)
	}
	r = copied(t, from, dir)
	for _, f := range r.Files {
		if f.At[0].Copied {
			t.Errorf("%s was copied a second time", f.From)
		}
	}
	if mustHold(t, dir, want); !r.All(0) {
		t.Errorf("the second run does not find all: %+v", r)
	}
	if left, err := os.ReadDir(filepath.Join(dir, unfinished)); err == nil {
		t.Errorf("%s is left with %d files", unfinished, len(left))
	}
}

// TestNamesNeverClash: another photo of the same name gets a name beside it, with its film and sidecars, also where names differ in
// capitals alone; what was there stays. The same again changes nothing.
func TestNamesNeverClash(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "rka")
	before(t, dir, "IMG_0001.JPG", "of last week")
	from := card(
		"100APPLE/IMG_0001.AAE", "edit", "100APPLE/IMG_0001.JPG", "one", "100APPLE/IMG_0001.MOV", "film",
		"100APPLE/IMG_0002.JPG", "two", "100APPLE/IMG_0002.AAE", "edit", "101APPLE/IMG_0002.JPG", "too", "101APPLE/img_0003.jpg", "low", "102APPLE/IMG_0003.JPG", "top",
		"103APPLE/IMG_0004.JPG", "A", "103APPLE/IMG_0004.jpg", "a", "103APPLE/img_0004.JPG", "b",
		"jacket 7/IMG_0001.JPG", "his", "jacket 7/IMG_0001.JPG.xmp", "said",
	)
	for range 2 {
		r := copied(t, from, dir)
		mustHold(t, dir, "IMG_0001.JPG=of last week IMG_0001~7692.AAE=edit IMG_0001~7692.JPG=one IMG_0001~7692.MOV=film "+
			"IMG_0002.AAE=edit IMG_0002.JPG=two IMG_0002~94c0.JPG=too IMG_0003~2872.JPG=top IMG_0004.JPG=A IMG_0004~ca97.jpg=a img_0003.jpg=low img_0004~3e23.JPG=b jacket 7/IMG_0001.JPG=his jacket 7/IMG_0001.JPG.xmp=said")
		if !r.All(0) {
			t.Errorf("%+v", r)
		}
	}
	// a film that comes later goes beside its photo, wherever that is by now
	from["100APPLE/IMG_0001.DNG"] = &fstest.MapFile{Data: []byte("raw"), ModTime: taken}
	if err := os.Mkdir(filepath.Join(dir, "jacket 8"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, ending := range []string{".AAE", ".JPG", ".MOV"} {
		if err := os.Rename(filepath.Join(dir, "IMG_0001~7692"+ending), filepath.Join(dir, "jacket 8/bone"+ending)); err != nil {
			t.Fatal(err)
		}
	}
	copied(t, from, dir)
	if got := holds(t, dir); !strings.Contains(got, "jacket 8/bone.DNG=raw") {
		t.Errorf("its raw file is not beside it: %s", got)
	}
}

// TestTarget: folders made by a camera are left out, since their numbers are no jacket's; folders made by people stay.
func TestTarget(t *testing.T) {
	for _, c := range []struct {
		camera     bool
		from, want string
	}{
		{false, "DCIM/100APPLE/IMG_1.JPG", "IMG_1.JPG"},
		{false, "Internal storage/DCIM/Camera/100/IMG_1.JPG", "IMG_1.JPG"},
		{false, "dcim/IMG_1.JPG", "IMG_1.JPG"},
		{true, "100/IMG_1.JPG", "IMG_1.JPG"},
		{false, "101CANON/IMG_1.JPG", "IMG_1.JPG"},
		{false, "IMG_1.JPG", "IMG_1.JPG"},
		{false, "jacket 14/gridded/IMG_1.JPG", "jacket 14/gridded/IMG_1.JPG"},
		{false, "day 2/101APPLE/IMG_1.JPG", "day 2/IMG_1.JPG"},
	} {
		if got := (Source{camera: c.camera}).target(c.from); got != c.want {
			t.Errorf("%s goes to %s, want %s", c.from, got, c.want)
		}
	}
	dir := filepath.Join(t.TempDir(), "DCIM/100")
	before(t, dir, "IMG_1.JPG", "x")
	if s, err := Open(dir); err != nil || !s.camera {
		t.Errorf("%s is not taken for a camera's folder (%v)", dir, err)
	}
}

// TestWhatStaysIsNamed: links are not followed, hidden files not entered, other files not copied; each is named.
func TestWhatStaysIsNamed(t *testing.T) {
	root, dir := t.TempDir(), filepath.Join(t.TempDir(), "rka")
	before(t, root, "out/IMG_0009.JPG", "elsewhere")
	from := filepath.Join(root, "phone")
	for _, name := range []string{"a.jpg", ".thumbs/b.jpg", "._a.jpg", "notes.pdf", "a.json"} {
		before(t, from, name, name)
	}
	before(t, from, "picture", "\x89PNG\r\n\x1a\n")
	before(t, from, "film", "\x00\x00\x00\x18ftypisom")
	for name, to := range map[string]string{"link.jpg": "../out/IMG_0009.JPG", "linked": "../out"} {
		if err := os.Symlink(to, filepath.Join(from, name)); err != nil {
			t.Skip(err)
		}
	}
	r := copied(t, os.DirFS(from), dir)
	mustHold(t, dir, "a.jpg=a.jpg a.json=a.json film=\x00\x00\x00\x18ftypisom picture=\x89PNG\r\n\x1a\n")
	var left []string
	for _, l := range r.Left {
		left = append(left, l.Name+": "+l.Reason)
	}
	want := "._a.jpg: hidden; .thumbs: hidden; link.jpg: a link; linked: a link; notes.pdf: no photo, film or sidecar"
	if got := strings.Join(left, "; "); got != want {
		t.Errorf("left: %s, want %s", got, want)
	}
	if r.Count(Sidecar) != 1 || r.Count(Film) != 1 {
		t.Errorf("%d sidecars and %d films, want one each", r.Count(Sidecar), r.Count(Film))
	}
}

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
