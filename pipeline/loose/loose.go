// Package loose takes photos that belong to no season through reading, looking
// and fitting: one alone ([Read]), or one with others of the same laid grid, which
// tell how deep the ground lies ([ReadWith]). Nothing is kept.
package loose

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
	"fieldjacket/pipeline/scale"
)

// Read takes one photo that belongs to no season through reading, looking
// and fitting. child may be nil where no reference needs pixels. Nothing is
// written but the overlay, where one is asked for; that needs a child. An
// error means that the photo could not be read, or the overlay not written.
func Read(ctx context.Context, child *children.Child, path string, refs []calibrate.Reference, drawn *Overlay) (*record.Record, error) {
	p, err := read(ctx, child, path, refs, drawn)
	if err != nil {
		return nil, err
	}
	return p.Record, nil
}

func read(ctx context.Context, child *children.Child, path string, refs []calibrate.Reference, drawn *Overlay) (*observe.Photo, error) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	p := &observe.Photo{Record: record.New(name), Folder: folder, Refs: refs, Child: child, Considered: drawn != nil}
	if err := p.Read(ctx); err != nil {
		return nil, fmt.Errorf("%s: read: %w", name, err)
	}
	if !p.Readable() {
		if len(p.Notes) > 0 {
			return nil, errors.New(p.Notes[0].Text)
		}
		return nil, intake.ErrNotPhoto
	}
	if child != nil {
		if err := p.Look(ctx); err != nil {
			return nil, fmt.Errorf("%s: look: %w", name, err)
		}
	}
	found, err := p.Marks()
	if err == nil {
		p.Sightings, p.DepthsBetween, err = scale.Fit(scale.Input{Photo: evidence.Photo{Record: p.Record}, Carried: refs, Found: found})
	}
	if err != nil {
		return nil, fmt.Errorf("%s: fit: %w", name, err)
	}
	for _, n := range p.Notes {
		if n.Stage == "look" && n.Person {
			return nil, errors.New(name + ": " + n.Text)
		}
	}
	if drawn != nil {
		if err := overlay(ctx, p, *drawn); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// An Overlay is a file to be written for one loose photo: the photo with what
// was found drawn on it.
type Overlay struct {
	Path     string
	Segments [][2]calibrate.Point // lengths asked for, drawn too
}

// overlay has the child draw what was found in the photo.
func overlay(ctx context.Context, p *observe.Photo, o Overlay) error {
	out := keep.TempFor(o.Path)
	defer os.Remove(out) // where it was not put in place
	found, err := p.Marks()
	if err != nil {
		return err
	}
	drawing := diagnostic.Drawing(p.Record, found, o.Segments)
	if _, err := observe.Draw(ctx, p.Child, look.DrawRequest{Source: p.Source(p.Folder), Overlay: &drawing, Out: out}); err != nil {
		return fmt.Errorf("overlay %s: %w", o.Path, err)
	}
	if err := keep.Commit(out, o.Path); err != nil {
		return fmt.Errorf("overlay %s: %w", o.Path, err)
	}
	return nil
}
