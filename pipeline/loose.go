package pipeline

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/diagnostic"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/record"
)

// Loose takes one photo that belongs to no season through reading, looking
// and fitting. child may be nil where no reference needs pixels. Nothing is
// written but the overlay, where one is asked for; that needs a child. An
// error means that the photo could not be read, or the overlay not written.
func Loose(ctx context.Context, child *children.Child, path string, refs []calibrate.Reference, drawn *Overlay) (*Record, error) {
	t, err := loosen(ctx, child, path, refs, drawn)
	if err != nil {
		return nil, err
	}
	return t.r, nil
}

func loosen(ctx context.Context, child *children.Child, path string, refs []calibrate.Reference, drawn *Overlay) (*task, error) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	r := record.New(name)
	t := &task{r: r, p: evidence.Photo{Record: r}, see: observe.Photo{Record: r, Folder: folder, Refs: refs, Child: child, Considered: drawn != nil}}
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
	return t, nil
}

// An Overlay is a file to be written for one loose photo: the photo with what
// was found drawn on it.
type Overlay struct {
	Path     string
	Segments [][2]calibrate.Point // lengths asked for, drawn too
}

// overlay has the child draw what was found in the photo.
func (t *task) overlay(ctx context.Context, o Overlay) error {
	out := keep.TempFor(o.Path)
	defer os.Remove(out) // where it was not put in place
	found, err := t.see.Marks()
	if err != nil {
		return err
	}
	drawing := diagnostic.Drawing(t.r, found, o.Segments)
	if _, err := observe.Draw(ctx, t.see.Child, look.DrawRequest{Source: t.r.Source(t.see.Folder), Overlay: &drawing, Out: out}); err != nil {
		return fmt.Errorf("overlay %s: %w", o.Path, err)
	}
	if err := keep.Commit(out, o.Path); err != nil {
		return fmt.Errorf("overlay %s: %w", o.Path, err)
	}
	return nil
}
