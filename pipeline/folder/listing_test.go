package folder

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

// TestPhotosAreListed in the order of folder and name, without hidden ones; a link to a disk beside the season is followed, one
// back into the season is not.
func TestPhotosAreListed(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need rights there")
	}
	d, disk := Dir(t.TempDir()), t.TempDir()
	for _, path := range []string{
		filepath.Join(d.Photos(), "b.jpg"), filepath.Join(d.Photos(), "ann", "2.jpg"), filepath.Join(d.Photos(), "ann", "10.jpg"),
		filepath.Join(d.Photos(), ".hidden", "1.jpg"), filepath.Join(d.Photos(), "ann", ".2.jpg"), filepath.Join(disk, "c.jpg"), filepath.Join(disk, "deep", "d.jpg"),
	} {
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, nil, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(os.Symlink(disk, filepath.Join(d.Photos(), "zoe")), os.Symlink(string(d), filepath.Join(d.Photos(), "round"))); err != nil {
		t.Fatal(err)
	}
	got, err := d.List(context.Background())
	want := []string{"ann/10.jpg", "ann/2.jpg", "b.jpg", "round", "zoe/c.jpg", "zoe/deep/d.jpg"}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
	if !d.AmongPhotos(filepath.Join(disk, "deep")) || d.AmongPhotos(t.TempDir()) {
		t.Error("what lies among the photos")
	}
}

// TestMissingPhotosAreNoEmptyFolder: an error that says whether the folder or the disk that a link leads to is missing.
func TestMissingPhotosAreNoEmptyFolder(t *testing.T) {
	d := Dir(t.TempDir())
	if _, err := d.List(context.Background()); !errors.Is(err, register.ErrUnread) || !strings.Contains(err.Error(), "no such folder") {
		t.Errorf("no folder: %v", err)
	}
	if runtime.GOOS == "windows" {
		return
	}
	if err := os.Symlink(filepath.Join(string(d), "gone"), d.Photos()); err != nil {
		t.Fatal(err)
	}
	if _, err := d.List(context.Background()); !errors.Is(err, register.ErrUnread) || !strings.Contains(err.Error(), "connect that disk") {
		t.Errorf("a link to a disk that is not there: %v", err)
	}
}

// TestLinkedFileOutOfThePhotos is refused; one within its own folder is the season's own.
func TestLinkedFileOutOfThePhotos(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need rights there")
	}
	d, outside := Dir(t.TempDir()), filepath.Join(t.TempDir(), "x.jpg")
	inside := filepath.Join(d.Photos(), "ann", "1.jpg")
	err := errors.Join(os.MkdirAll(filepath.Dir(inside), 0o755), os.WriteFile(inside, nil, 0o644), os.WriteFile(outside, nil, 0o644),
		os.Symlink(outside, filepath.Join(d.Photos(), "ann", "out.jpg")), os.Symlink(inside, filepath.Join(d.Photos(), "ann", "in.jpg")))
	if err != nil {
		t.Fatal(err)
	}
	for file, refused := range map[string]bool{"ann/1.jpg": false, "ann/in.jpg": false, "ann/out.jpg": true} {
		if err := d.Own(file); errors.Is(err, ErrLinkedFile) != refused {
			t.Errorf("%s: %v, refused %v", file, err, refused)
		}
	}
}
