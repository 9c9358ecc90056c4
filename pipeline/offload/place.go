package offload

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"fieldjacket/pipeline/keep"
)

// A Place is a folder that photos are copied to. It may be a link to one, folders below may not.
type Place struct {
	Name  string // for people
	Dir   string // made where it is not there
	Drive string // has to be there already, since an unplugged drive's folder is another disk's; "": Dir is made as it is
}

// unfinished is the folder below a place that holds what is being copied.
const unfinished = ".copying"

// A place is one at work.
type place struct {
	Place
	held    map[int64][]*held // by length
	taken   map[string]bool   // folded slash paths
	stopped error             // why nothing more is written
	disk    uint64            // of the drive, where known
	known   bool
	buffer  []byte
}

// A held file was there before, or has been copied.
type held struct {
	file string // slash path below Dir
	sum  string // "": not read yet
	bad  bool   // it cannot be read
}

// openPlace lists what a place holds and sweeps what a stopped run left.
func openPlace(ctx context.Context, at Place, buffer []byte) *place {
	p := &place{Place: at, buffer: buffer, held: map[int64][]*held{}, taken: map[string]bool{}}
	p.disk, p.known = diskOf(at.Drive)
	p.stopped = p.list(ctx)
	return p
}

func (p *place) list(ctx context.Context) error {
	if p.Drive != "" {
		if info, err := os.Stat(p.Drive); err != nil {
			return fmt.Errorf("%s: %w: is the drive plugged in and mounted", p.Drive, plain(err))
		} else if !info.IsDir() {
			return fmt.Errorf("%s: want a folder", p.Drive)
		}
	}
	if _, err := os.Lstat(p.Dir); err == nil { // it may be a link to another disk
		whole, err := filepath.EvalSymlinks(p.Dir)
		if err != nil {
			return fmt.Errorf("%s leads to nothing: %w: is its disk plugged in", p.Dir, plain(err))
		}
		p.Dir = whole
	}
	if _, err := keep.Sweep(filepath.Join(p.Dir, unfinished)); err != nil {
		return err
	}
	return filepath.WalkDir(p.Dir, func(name string, d fs.DirEntry, err error) error {
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case errors.Is(err, fs.ErrNotExist) && name == p.Dir:
			return fs.SkipAll
		case err != nil:
			return err
		case name == p.Dir && !d.IsDir():
			return fmt.Errorf("%s: want a folder", p.Dir)
		case name == p.Dir:
			return nil
		}
		rel, err := filepath.Rel(p.Dir, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		p.taken[fold(rel)] = true
		if hidden := strings.HasPrefix(d.Name(), "."); d.IsDir() && hidden {
			return fs.SkipDir
		} else if hidden || !d.Type().IsRegular() {
			return nil
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		p.held[info.Size()] = append(p.held[info.Size()], &held{file: rel})
		return nil
	})
}

// lacksRoom tells whether what surely is to be copied is more than the place's disk takes.
func (p *place) lacksRoom(files []*File) error {
	var bytes int64
	for _, f := range files {
		if len(p.held[f.Bytes]) == 0 {
			bytes += f.Bytes
		}
	}
	if free, ok := freeBytes(existing(p.Dir)); ok && bytes > free {
		return fmt.Errorf("the disk is too full: %s to copy, %s free: make room", sizeText(bytes), sizeText(free))
	}
	return nil
}

// existing is the part of a path that is there.
func existing(dir string) string {
	for {
		if _, err := os.Stat(dir); err == nil || filepath.Dir(dir) == dir {
			return dir
		}
		dir = filepath.Dir(dir)
	}
}

// find gives the file of the place that has a file's content, read from its disk; nil where there is none. Sidecars often say the
// same of several photos: one counts only under the name of its own.
func (p *place) find(ctx context.Context, f *File, there *held) (*held, error) {
	for _, h := range p.held[f.Bytes] {
		if f.Kind == Sidecar && !h.goesWith(f, there) {
			continue
		}
		if h.sum == "" && !h.bad {
			var err error
			h.sum, err = p.readBack(ctx, p.path(h.file))
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			h.bad = err != nil
		}
		if h.sum == f.SHA256 && !h.bad {
			return h, nil
		}
	}
	return nil, nil
}

func (p *place) path(file string) string { return filepath.Join(p.Dir, filepath.FromSlash(file)) }

// readBack hashes a file as its disk has it: what the system remembers of it is dropped first, where it can be told to.
func (p *place) readBack(ctx context.Context, name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	forget(f)
	sum, _, err := hashOf(ctx, f, io.Discard, p.buffer)
	return sum, err
}

// isFull tells faults of a place that every further file would meet too.
func isFull(err error) bool {
	for _, e := range []error{syscall.ENOSPC, syscall.EROFS, syscall.ENODEV, syscall.EDQUOT} {
		if errors.Is(err, e) {
			return true
		}
	}
	return false
}

func sizeText(bytes int64) string {
	if bytes < 1e9 {
		return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
	}
	return fmt.Sprintf("%.1f GB", float64(bytes)/1e9)
}

// plain takes the path off a system's fault, where the sentence around has it.
func plain(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
