package keep

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"syscall"
)

// Suffix ends the name of every file that is not finished yet. Nothing else in a folder that the program owns is
// named so, which is how [Sweep] knows what to clear.
const Suffix = ".tmp"

// temps counts the temporary names this process has used; own tells it from one of the same number on another machine that shares
// the folder.
var (
	temps atomic.Int64
	own   = rand.Uint32()
)

// TempFor returns a fresh name, in the same folder as final, for a file that will become final by [Commit]. No file is
// made. The name is short whatever the length of final's, and is used once only.
func TempFor(final string) string {
	name := fmt.Sprintf(".keep-%d-%08x-%d%s", os.Getpid(), own, temps.Add(1), Suffix)
	return filepath.Join(filepath.Dir(final), name)
}

// Write makes path hold exactly what fill writes: into a temporary file beside it, flushed to the disk, then renamed
// over path. perm is the new file's mode before the umask. If fill or any step fails, the temporary file is removed,
// the old file (if any) is untouched, and the first error is returned. The folder must exist.
func Write(path string, perm fs.FileMode, fill func(io.Writer) error) (err error) {
	f, err := create(path, perm)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	placed := false
	defer func() { // also when fill panics
		if !placed {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err := fill(f); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	if err := place(f, path); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	placed = true
	return Named(path)
}

// Bytes makes path hold exactly content, by the same steps and with the same promises as [Write].
func Bytes(path string, perm fs.FileMode, content []byte) error {
	return Write(path, perm, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}

// Commit flushes the finished file temp to the disk and renames it to final, replacing an older final. Both must be on
// one file system; [TempFor] sees to that. If it fails, temp is removed and final is untouched. Anything but a regular
// file (a link, a folder) is refused and left alone.
func Commit(temp, final string) error {
	at, err := os.Lstat(temp)
	if err != nil {
		return fmt.Errorf("commit %s: %w", final, err)
	}
	if !at.Mode().IsRegular() {
		return fmt.Errorf("commit %s: %s is not a regular file", final, temp)
	}
	f, err := os.OpenFile(temp, os.O_RDWR, 0)
	if err == nil {
		err = place(f, final)
	}
	if err != nil {
		if f != nil {
			f.Close()
		}
		os.Remove(temp)
		return fmt.Errorf("commit %s: %w", final, err)
	}
	return Named(final)
}

// Place gives the finished and flushed file temp the name final, on the same file system, and never takes that name from
// another file: the error then wraps [fs.ErrExist] and temp stays as it is.
func Place(temp, final string) error {
	err := os.Link(temp, final)
	switch {
	case err == nil:
		err = os.Remove(temp)
	case !errors.Is(err, fs.ErrExist): // memory cards have no second names
		if _, taken := os.Lstat(final); taken == nil {
			err = fs.ErrExist
		} else {
			err = rename(temp, final)
		}
	}
	if err != nil {
		return fmt.Errorf("place %s: %w", final, err)
	}
	return Named(final)
}

// Sweep removes the unfinished files (regular files ending in [Suffix]) under dir, however deep, and returns how many.
// Links below dir are not followed. Call it only on a folder that the program owns, and while no other run writes there.
// A missing dir is nothing to sweep. What cannot be removed is passed over and joined into the error.
func Sweep(dir string) (removed int, err error) {
	root, err := filepath.EvalSymlinks(dir) // the folder itself may be a link to another disk
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, fmt.Errorf("sweep %s: %w", dir, err)
	}
	var failed []error
	filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			failed = append(failed, err)
			return nil
		}
		if !entry.Type().IsRegular() || filepath.Ext(path) != Suffix {
			return nil
		}
		if err := os.Remove(path); err != nil {
			failed = append(failed, err)
			return nil
		}
		removed++
		return nil
	})
	if len(failed) > 0 {
		return removed, fmt.Errorf("sweep %s: %w", dir, errors.Join(failed...))
	}
	return removed, nil
}

// create opens a new temporary file for path. A name left by a dead process of the same number is passed over.
func create(path string, perm fs.FileMode) (*os.File, error) {
	for {
		f, err := os.OpenFile(TempFor(path), os.O_RDWR|os.O_CREATE|os.O_EXCL, perm)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// place flushes and closes f and renames it to path.
func place(f *os.File, path string) error {
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return rename(f.Name(), path)
}

// Named flushes the folder that holds path, so that a new name or a rename outlives a power cut, where the system allows: Windows
// has no such call, and some network and memory-card file systems refuse it, which is not a failure of the write; only
// a disk that reports a fault is.
func Named(path string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	dir, err := os.Open(filepath.Dir(path))
	if err != nil {
		return nil // a folder that may be written but not read
	}
	defer dir.Close()
	if err := dir.Sync(); errors.Is(err, syscall.EIO) {
		return fmt.Errorf("write %s: flush its folder: %w", path, err)
	}
	return nil
}
