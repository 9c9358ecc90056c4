package offload

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadBack: what the disk gives back differently is no copy, and a spoilt file that was there before is none either.
func TestReadBack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "rka")
	real := forget
	defer func() { forget = real }()
	forget = func(f *os.File) { // a disk that keeps other bytes than it was given
		if b, err := os.ReadFile(f.Name()); err == nil && bytes.Equal(b, []byte("second")) {
			os.WriteFile(f.Name(), []byte("sec0nd"), 0o644)
		}
	}
	from := card("IMG_0001.JPG", "first", "IMG_0002.JPG", "second")
	r := copied(t, from, dir)
	mustHold(t, dir, "IMG_0001.JPG=first")
	if r.All(0) || r.Verified(0) != 1 || !strings.Contains(r.Files[1].At[0].Fault, "differs from what was written") {
		t.Errorf("%+v", r.Files[1])
	}
	forget = real
	before(t, dir, "IMG_0002.JPG", "spoilt")
	if r = copied(t, from, dir); !r.All(0) {
		t.Errorf("%+v", r)
	}
	mustHold(t, dir, "IMG_0001.JPG=first IMG_0002.JPG=spoilt IMG_0002~1636.JPG=second")
}

// TestADiskThatChangesItsMind: a first place that gives other bytes to the second than were read back from it is what is named, not
// the phone, and the file counts as whole at neither.
func TestADiskThatChangesItsMind(t *testing.T) {
	dir, second := filepath.Join(t.TempDir(), "rka"), filepath.Join(t.TempDir(), "drive")
	real := forget
	defer func() { forget = real }()
	forget = func(f *os.File) { // spoils the photo at the first place while its film is read back
		if b, err := os.ReadFile(f.Name()); err == nil && bytes.Equal(b, []byte("film")) {
			os.WriteFile(filepath.Join(dir, "IMG_0001.JPG"), []byte("fir5t"), 0o644)
		}
	}
	r := copied(t, card("IMG_0001.JPG", "first", "IMG_0001.MOV", "film"), dir, second)
	photo := r.Files[0]
	if photo.Fault != "" || photo.At[0].File != "" || !strings.Contains(photo.At[0].Fault, "do not trust this disk") || !strings.Contains(photo.At[1].Fault, dir) || r.Verified(0) != 1 || r.Verified(1) != 1 {
		t.Errorf("%+v", photo)
	}
	mustHold(t, second, "IMG_0001.MOV=film")
}

// TestNoRoom: where the disk is too small from the start nothing is begun, and the other place gets all.
func TestNoRoom(t *testing.T) {
	root := t.TempDir()
	dir, second := filepath.Join(root, "rka"), filepath.Join(root, "second")
	real := freeBytes
	defer func() { freeBytes = real }()
	if err := os.Mkdir(second, 0o755); err != nil {
		t.Fatal(err)
	}
	freeBytes = func(dir string) (int64, bool) {
		if dir == second {
			return 1000, true
		}
		return 10, true
	}
	r := copied(t, card("IMG_0001.JPG", "first", "IMG_0002.JPG", "second"), dir, second)
	mustHold(t, dir, "")
	mustHold(t, second, "IMG_0001.JPG=first IMG_0002.JPG=second")
	if r.All(0) || !r.All(1) || !strings.Contains(r.Places[0].Stopped, "too full") {
		t.Errorf("%+v", r.Places)
	}
	// what is there already needs no room
	freeBytes = func(string) (int64, bool) { return 0, true }
	if r = copied(t, card("IMG_0001.JPG", "first"), second); !r.All(0) {
		t.Errorf("%+v", r)
	}
}

// TestDriveNotThere: a drive that is missing, or goes away, stops that place alone; its folder is not made on another disk.
func TestDriveNotThere(t *testing.T) {
	root := t.TempDir()
	dir, drive := filepath.Join(root, "rka"), filepath.Join(root, "drive")
	places := []Place{{Dir: dir}, {Name: "drive", Dir: filepath.Join(drive, "season/photos/rka"), Drive: drive}}
	from := Source{files: card("1.jpg", "a", "2.jpg", "b")}
	r, err := Copy(context.Background(), from, places, silent{})
	if err != nil || !r.All(0) || r.All(1) || !strings.Contains(r.Places[1].Stopped, "plugged in") {
		t.Errorf("%v: %+v", err, r.Places)
	}
	if _, err := os.Stat(drive); err == nil {
		t.Error("the folder of a missing drive was made")
	}
	if err := os.Mkdir(drive, 0o755); err != nil {
		t.Fatal(err)
	}
	real := diskOf
	defer func() { diskOf = real }()
	disk := uint64(7)
	diskOf = func(string) (uint64, bool) { return disk, true }
	r, err = Copy(context.Background(), from, places, after{1, func() { disk = 8 }})
	if err != nil || !r.All(0) || r.Verified(1) != 1 || !strings.Contains(r.Places[1].Stopped, "not there any more") {
		t.Errorf("%v: %+v", err, r)
	}
	mustHold(t, places[1].Dir, "1.jpg=a")
}

// TestLinkedPlace: a place may be a link to another disk's folder; one to nothing, and one below, are refused.
func TestLinkedPlace(t *testing.T) {
	root := t.TempDir()
	other := filepath.Join(root, "other")
	before(t, other, "kept.jpg", "x")
	dir := filepath.Join(root, "rka")
	if err := os.Symlink(other, dir); err != nil {
		t.Skip(err)
	}
	if r := copied(t, card("1.jpg", "a", "2.jpg", "x"), dir); !r.All(0) || r.Files[1].At[0].File != "kept.jpg" {
		t.Errorf("%+v", r)
	}
	mustHold(t, other, "1.jpg=a kept.jpg=x")
	in := filepath.Join(root, "in")
	if err := os.Mkdir(in, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(other, filepath.Join(in, "jacket 7")); err != nil {
		t.Fatal(err)
	}
	if r := copied(t, card("jacket 7/3.jpg", "c", "jacket 8/1.jpg", "b"), in); r.Verified(0) != 1 || !strings.Contains(fmt.Sprint(r.Files[0].At), "no link") {
		t.Errorf("%+v", r.Files[0])
	}
	if err := os.RemoveAll(other); err != nil {
		t.Fatal(err)
	}
	if r := copied(t, card("1.jpg", "a"), dir); r.All(0) || !strings.Contains(r.Places[0].Stopped, "leads to nothing") {
		t.Errorf("%+v", r.Places)
	}
}
