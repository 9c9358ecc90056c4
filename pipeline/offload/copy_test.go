package offload

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
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

func (silent) Started(int) {}

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
