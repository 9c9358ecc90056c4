package pipeline

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

// list gives every file below photos/ as slash paths in the order of folder
// and name, so that a phone's photos follow each other. What cannot be listed
// is an error, never a folder without photos.
func (s *Season) list(ctx context.Context) ([]string, error) {
	var files []string
	err := s.walkPhotos(func(file string, d fs.DirEntry) error {
		if !d.IsDir() {
			files = append(files, file)
		}
		return ctx.Err()
	})
	switch to, linked := os.Readlink(s.photos()); {
	case err == nil:
		slices.Sort(files)
		return files, nil
	case ctx.Err() != nil:
		return nil, err
	case errors.Is(err, fs.ErrNotExist) && linked == nil:
		err = fmt.Errorf("%s: a link to %s, which is not there: connect that disk", s.photos(), to)
	case errors.Is(err, fs.ErrNotExist):
		err = fmt.Errorf("%s: no such folder: put the phones' photos there, one folder a person", s.photos())
	}
	return nil, fmt.Errorf("%w\n%w", err, register.ErrUnread)
}

// walkPhotos visits every file and folder below photos/, hidden ones passed
// over, as slash paths. photos/ itself may be a link, and so may a folder
// directly in it that leads out of the season: a disk, a card. No other link
// to a folder is followed, so that no walk goes in circles: it is visited as a
// file, which cannot be read.
func (s *Season) walkPhotos(visit func(file string, d fs.DirEntry) error) error {
	root, err := filepath.EvalSymlinks(s.photos())
	if err != nil {
		return err
	}
	return walkVisible(root, func(rel string, d fs.DirEntry) error {
		if d.Type()&fs.ModeSymlink == 0 || rel != d.Name() {
			return visit(filepath.ToSlash(rel), d)
		}
		to, ok := s.leadsOut(filepath.Join(root, rel))
		if !ok {
			return visit(rel, d)
		}
		return walkVisible(to, func(below string, d fs.DirEntry) error { return visit(filepath.ToSlash(filepath.Join(rel, below)), d) })
	})
}

// walkVisible walks a folder; visit is told the folder itself as ".".
func walkVisible(root string, visit func(rel string, d fs.DirEntry) error) error {
	return filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		switch {
		case err != nil:
			return err
		case rel == "." || !strings.HasPrefix(d.Name(), "."):
			return visit(rel, d)
		case d.IsDir():
			return fs.SkipDir
		}
		return nil
	})
}

// leadsOut gives the folder that a link leads to, where that neither lies in
// the season nor holds it.
func (s *Season) leadsOut(link string) (folder string, ok bool) {
	to, err := filepath.EvalSymlinks(link)
	if err != nil {
		return "", false
	}
	at, err := os.Stat(to)
	return to, err == nil && at.IsDir() && !inside(to, s.Dir) && !inside(s.Dir, to)
}
