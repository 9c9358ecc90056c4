package folder

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// List gives every file below photos/ as slash paths in the order of folder
// and name, so that a phone's photos follow each other. What cannot be listed
// is an error, never a folder without photos.
func (d Dir) List(ctx context.Context) ([]string, error) {
	var files []string
	err := d.walkPhotos(func(file string, e fs.DirEntry) error {
		if !e.IsDir() {
			files = append(files, file)
		}
		return ctx.Err()
	})
	switch to, linked := os.Readlink(d.Photos()); {
	case err == nil:
		slices.Sort(files)
		return files, nil
	case ctx.Err() != nil:
		return nil, err
	case errors.Is(err, fs.ErrNotExist) && linked == nil:
		err = fmt.Errorf("%s: a link to %s, which is not there: connect that disk", d.Photos(), to)
	case errors.Is(err, fs.ErrNotExist):
		err = fmt.Errorf("%s: no such folder: put the phones' photos there, one folder a person", d.Photos())
	}
	return nil, fmt.Errorf("%w\n%w", err, register.ErrUnread)
}

// walkPhotos visits every file and folder below photos/, hidden ones passed
// over, as slash paths. photos/ itself may be a link, and so may a folder
// directly in it that leads out of the season: a disk, a card. No other link
// to a folder is followed, so that no walk goes in circles: it is visited as a
// file, which cannot be read.
func (d Dir) walkPhotos(visit func(file string, e fs.DirEntry) error) error {
	root, err := filepath.EvalSymlinks(d.Photos())
	if err != nil {
		return err
	}
	return walkVisible(root, func(rel string, e fs.DirEntry) error {
		if e.Type()&fs.ModeSymlink == 0 || rel != e.Name() {
			return visit(filepath.ToSlash(rel), e)
		}
		to, ok := d.leadsOut(filepath.Join(root, rel))
		if !ok {
			return visit(rel, e)
		}
		return walkVisible(to, func(below string, e fs.DirEntry) error { return visit(filepath.ToSlash(filepath.Join(rel, below)), e) })
	})
}

// walkVisible walks a folder; visit is told the folder itself as ".".
func walkVisible(root string, visit func(rel string, e fs.DirEntry) error) error {
	return filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		switch {
		case err != nil:
			return err
		case rel == "." || !strings.HasPrefix(e.Name(), "."):
			return visit(rel, e)
		case e.IsDir():
			return fs.SkipDir
		}
		return nil
	})
}

// leadsOut gives the folder that a link leads to, where that neither lies in
// the season nor holds it.
func (d Dir) leadsOut(link string) (folder string, ok bool) {
	to, err := filepath.EvalSymlinks(link)
	if err != nil {
		return "", false
	}
	at, err := os.Stat(to)
	return to, err == nil && at.IsDir() && !Inside(to, string(d)) && !Inside(string(d), to)
}

// Own fails for a file below photos/ that is a link out of the folder which the
// photos lie in: it would not go with the season, and may be anything.
func (d Dir) Own(file string) error {
	path := filepath.Join(d.Photos(), filepath.FromSlash(file))
	if _, err := os.Readlink(path); err != nil {
		return nil // no link
	}
	at, err := os.Stat(path)
	if err != nil || at.IsDir() {
		return nil // whoever reads it says that it leads nowhere, or to a folder
	}
	first, _, below := strings.Cut(file, "/")
	home := d.Photos()
	if below {
		home = filepath.Join(home, first)
	}
	if !Inside(path, home) && !Inside(path, d.Photos()) {
		return ErrLinkedFile
	}
	return nil
}

// AmongPhotos tells whether a path lies below photos/, or in a folder that a
// link there leads to.
func (d Dir) AmongPhotos(path string) bool {
	if Inside(path, d.Photos()) {
		return true
	}
	there, _ := os.ReadDir(d.Photos()) // without photos nothing lies among them
	return slices.ContainsFunc(there, func(e fs.DirEntry) bool {
		return e.Type()&fs.ModeSymlink != 0 && Inside(path, filepath.Join(d.Photos(), e.Name()))
	})
}

// ErrLinkedFile: see [Dir.Own].
var ErrLinkedFile = errors.New("a link to a file outside of photos/, which is not followed")

// Inside tells whether a folder is another or lies within it.
func Inside(dir, other string) bool {
	var whole func(p string) string
	whole = func(p string) string {
		if abs, err := filepath.Abs(p); err == nil {
			p = abs
		}
		if at, err := filepath.EvalSymlinks(p); err == nil {
			return at
		}
		if above := filepath.Dir(p); above != p { // it is not there yet
			return filepath.Join(whole(above), filepath.Base(p))
		}
		return p
	}
	rel, err := filepath.Rel(whole(other), whole(dir))
	return err == nil && filepath.IsLocal(rel)
}
