package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/gofrs/flock"

	"fieldjacket/pipeline/keep"
)

// A Dir is a season's folder. Files below paper/ are named by slash paths there.
type Dir string

// Paper is a path below the one folder that is written to.
func (d Dir) Paper(parts ...string) string {
	return filepath.Join(append([]string{string(d), "paper"}, parts...)...)
}

// Photos is the folder of the photos, which is never written to.
func (d Dir) Photos() string { return filepath.Join(string(d), "photos") }

// ErrBusy says that another program writes to the season's paper folder.
var ErrBusy = errors.New("another fieldjacket is at work on this season: wait for it, or end it")

// folders are those below paper/.
var folders = []string{"records", "previews", "plates", "packets", "labels", "locality", "days", "map"}

// private are those that hold positions, owners and permits: nobody else who has
// an account on the machine may read them.
var private = []string{"records", "locality"}

// make makes a folder below paper/, or closes one that is private.
func (d Dir) make(f string) error {
	if !slices.Contains(private, f) {
		return os.MkdirAll(d.Paper(f), 0o755)
	}
	if err := os.MkdirAll(d.Paper(f), 0o700); err != nil {
		return err
	}
	if at, err := os.Stat(d.Paper(f)); err != nil || at.Mode().Perm()&0o077 == 0 {
		return err
	}
	return os.Chmod(d.Paper(f), 0o700)
}

// Mode is that of a file below paper/.
func Mode(file string) fs.FileMode {
	if first, _, _ := strings.Cut(file, "/"); slices.Contains(private, first) {
		return 0o600
	}
	return 0o644
}

// Lock makes the paper folder ready and keeps other writers out; the caller
// unlocks. What a killed run left half-written is swept.
func (d Dir) Lock() (unlock func(), err error) {
	unlock, err = d.lock((*flock.Flock).TryLock)
	if err != nil {
		return nil, err
	}
	if _, err := keep.Sweep(d.Paper()); err != nil {
		unlock()
		return nil, fmt.Errorf("paper folder: %w", err)
	}
	return unlock, nil
}

// LockShared makes the paper folder ready for one of several that look at
// photos at once, each photo's files written whole; [Dir.Lock] keeps them out,
// and they keep it out. What killed ones left is swept by the next Lock.
func (d Dir) LockShared() (unlock func(), err error) {
	return d.lock((*flock.Flock).TryRLock)
}

func (d Dir) lock(try func(*flock.Flock) (bool, error)) (unlock func(), err error) {
	for _, f := range folders {
		if err := d.make(f); err != nil {
			return nil, fmt.Errorf("paper folder: %w", err)
		}
	}
	l := flock.New(d.Paper(".lock"))
	held, err := try(l)
	if err != nil {
		return nil, fmt.Errorf("paper folder: %w", err)
	}
	if !held {
		return nil, ErrBusy
	}
	return func() { _ = l.Unlock() }, nil
}

// Has tells whether a file below paper/ is there.
func (d Dir) Has(file string) bool {
	_, err := os.Stat(d.Paper(filepath.FromSlash(file)))
	return err == nil
}

// Remove takes away one of the program's own files below paper/.
func (d Dir) Remove(file string) error {
	if !filepath.IsLocal(filepath.FromSlash(file)) {
		return fmt.Errorf("%s: not below the paper folder", file)
	}
	err := os.Remove(d.Paper(filepath.FromSlash(file)))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}

// RemoveAll removes files below paper/, where they are there.
func (d Dir) RemoveAll(files ...string) error {
	for _, file := range files {
		if err := d.Remove(file); err != nil {
			return err
		}
	}
	return nil
}
