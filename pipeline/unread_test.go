package pipeline

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// seenSeason is a season of one photo with a plate, as an earlier run left it,
// in a folder that a link leads to.
func seenSeason(t *testing.T) (dir, disk, plate string) {
	t.Helper()
	dir, disk = newSeason(t), t.TempDir()
	shoot(t, dir, "IMG_0001.JPG", 40)
	put(t, disk, "other.txt", "x")
	if err := errors.Join(os.Rename(filepath.Join(dir, "photos/IMG_0001.JPG"), filepath.Join(disk, "IMG_0001.JPG")), os.Symlink(disk, filepath.Join(dir, "photos/tk"))); err != nil {
		t.Fatal(err)
	}
	run(t, dir)
	plate = "plates/14/14_no-view_2026-02-11_x.jpg"
	put(t, dir, "paper/"+plate, "a plate")
	change(t, dir, "tk/IMG_0001.JPG", func(r *record.Record) {
		r.Keys["look"] = "as an earlier run saw it"
		r.Plates = []record.Plate{{Jacket: "14", File: plate, Key: "as drawn"}}
	})
	return dir, disk, plate
}

// TestAPhotoThatIsNotReadThisTimeKeepsItsPaper: what the system says of a disk is no word on the photo.
func TestAPhotoThatIsNotReadThisTimeKeepsItsPaper(t *testing.T) {
	dir, disk, plate := seenSeason(t)
	photo := filepath.Join(disk, "IMG_0001.JPG")
	if err := errors.Join(os.Rename(photo, photo+"~"), os.Symlink("nowhere", photo)); err != nil {
		t.Fatal(err)
	}
	run(t, dir)
	r := recordOf(t, dir, "tk/IMG_0001.JPG")
	if r.Photo.SHA256 == "" || r.Capture == nil || r.Keys["look"] == "" || len(r.Plates) != 1 || r.Plates[0].Key == "" || !opened(t, dir).Dir.Has(plate) {
		t.Errorf("%+v, plate there: %v", r, opened(t, dir).Dir.Has(plate))
	}
	if !r.ToRepeat("read") || r.Unread() == "" {
		t.Errorf("nobody is told: %+v", r.Notes)
	}
	// A file that is there and is no photo is another matter.
	if err := errors.Join(os.Remove(photo), os.WriteFile(photo, []byte{0xff, 0xd8, 0xff}, 0o644)); err != nil {
		t.Fatal(err)
	}
	run(t, dir)
	if r := recordOf(t, dir, "tk/IMG_0001.JPG"); len(r.Plates) > 0 || opened(t, dir).Dir.Has(plate) {
		t.Errorf("a damaged photo keeps its plate: %+v", r)
	}
}

// pulled is a disk that goes when its photos were listed.
type pulled struct {
	quiet
	pull func()
}

func (p pulled) Started(int) { p.pull() }

// TestADiskPulledMidRunEndsIt, and takes nothing along.
func TestADiskPulledMidRunEndsIt(t *testing.T) {
	dir, disk, plate := seenSeason(t)
	before := recordOf(t, dir, "tk/IMG_0001.JPG")
	_, _, err := opened(t, dir).Run(context.Background(), RunOptions{}, pulled{pull: func() {
		if err := errors.Join(os.RemoveAll(disk), os.Mkdir(disk, 0o755)); err != nil { // an empty mount point stays
			t.Fatal(err)
		}
	}})
	if !errors.Is(err, register.ErrUnread) || errors.Is(err, intake.ErrNotPhoto) {
		t.Errorf("the run ends with %v", err)
	}
	if now := recordOf(t, dir, "tk/IMG_0001.JPG"); string(now.Kept()) != string(before.Kept()) || !opened(t, dir).Dir.Has(plate) {
		t.Errorf("%s, was %s", now.Kept(), before.Kept())
	}
}

func recordOf(t *testing.T, dir, file string) *record.Record {
	t.Helper()
	records, err := record.Load(opened(t, dir).Dir.Paper())
	if err != nil || records.ByFile()[file] == nil {
		t.Fatalf("%s has no record: %v", file, err)
	}
	return records.ByFile()[file]
}
