package pipeline

import (
	"context"
	"errors"
	"path/filepath"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
)

// Loose takes one photo that belongs to no season through reading, looking
// and fitting. child may be nil where no reference needs pixels. Nothing is
// written but the overlay, where one is asked for; that needs a child. An
// error means that the photo could not be read, or the overlay not written.
func Loose(ctx context.Context, child *children.Child, path string, refs []calibrate.Reference, drawn *Overlay) (*Record, error) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	t := &task{root: folder, refs: refs, child: child, considered: drawn != nil, r: record.New(name)}
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
	if drawn != nil {
		if err := t.overlay(ctx, *drawn); err != nil {
			return nil, err
		}
	}
	return t.r, nil
}
