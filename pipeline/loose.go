package pipeline

import (
	"context"
	"errors"
	"path/filepath"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/intake"
)

// Loose takes one photo that belongs to no season through reading, looking
// and fitting. child may be nil where no reference needs pixels. Nothing is
// written. An error means that the photo could not be read.
func Loose(ctx context.Context, child *children.Child, path string, refs []calibrate.Reference) (*Record, error) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	t := &task{root: folder, refs: refs, child: child, r: &Record{}}
	t.r.Photo.File = name
	if err := t.through(ctx, looseSteps); err != nil {
		return nil, err
	}
	if !t.r.Readable() {
		if len(t.r.Notes) > 0 {
			return nil, errors.New(t.r.Notes[0].Text)
		}
		return nil, intake.ErrNotPhoto
	}
	for _, n := range t.r.Notes {
		if n.Stage == "look" && n.Person {
			return nil, errors.New(name + ": " + n.Text)
		}
	}
	return t.r, nil
}
