package pipeline

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/pipeline/children"
)

// A Laid is what photos of one laid grid tell of the ground: exactly one of
// the two is set.
type Laid struct {
	Depths  *relief.Depths
	Refused *relief.Refusal
}

// LooseWith is [Loose] for a photo of a grid with others of the same laid grid,
// which tell how deep the ground lies. Laid is nil where the first photo was
// not scaled.
func LooseWith(ctx context.Context, child *children.Child, path string, with []string, ref calibrate.Reference, drawn *Overlay) (*Record, *Laid, error) {
	if ref.Kind != calibrate.KindGrid {
		return nil, nil, fmt.Errorf("depth from several photos needs a grid of strings, not a %s", ref.Kind)
	}
	refs := []calibrate.Reference{ref}
	first, err := loosen(ctx, child, path, refs, drawn)
	if err != nil {
		return nil, nil, err
	}
	if first.r.Sightings[0].Plane == nil {
		return first.r, nil, nil
	}
	request := look.DepthRequest{Reference: ref}
	var shots []relief.Shot
	for k, name := range append([]string{path}, with...) {
		t := first
		if k > 0 {
			if t, err = loosen(ctx, child, name, refs, nil); err != nil {
				return first.r, nil, fmt.Errorf("%s: %w", name, err)
			}
		}
		photo, refusal := t.strung(name)
		if refusal != nil {
			return first.r, &Laid{Refused: refusal}, nil
		}
		request.Photos, shots = append(request.Photos, photo), append(shots, shotOf(t.r, filepath.Base(name)))
	}
	laid, err := askDepth(ctx, child, request, shots)
	return first.r, laid, err
}

// strung is the photo with its strings, of the only reference looked for.
func (t *task) strung(name string) (photo look.DepthPhoto, refusal *relief.Refusal) {
	found, err := t.see.Marks()
	sighting := t.r.Sightings[0]
	switch {
	case sighting.Refused != nil:
		return photo, relief.NotScaled(filepath.Base(name), sighting.Refused)
	case err != nil || len(found) != 1 || sighting.Plane == nil:
		return photo, relief.NotScaled(filepath.Base(name), calibrate.Refuse("take it again", "its strings are not at hand"))
	}
	return look.DepthPhoto{Source: t.r.Source(t.see.Folder), Plane: *sighting.Plane, Marks: found[0].Marks}, nil
}

// shotOf is what a photo's file says of how it was taken.
func shotOf(r *Record, name string) relief.Shot {
	s := relief.Shot{Name: name, Camera: r.Camera()}
	if c := r.Capture; c != nil {
		s.Lens = c.Make + " " + c.Model
		if c.DigitalZoom != nil {
			s.Zoom = *c.DigitalZoom
		}
		if c.Local != nil {
			s.Taken = c.Local.At(0)
		}
	}
	return s
}

// askDepth has the child match the photos, and makes the one fit that counts.
func askDepth(ctx context.Context, child *children.Child, request look.DepthRequest, shots []relief.Shot) (*Laid, error) {
	if refusal := relief.Belong(shots); refusal != nil {
		return &Laid{Refused: refusal}, nil
	}
	reply, err := child.Ask(ctx, look.Request{Depth: &request})
	if err != nil {
		return nil, err
	}
	if reply.Depth == nil || len(reply.Depth.Matches) != len(request.Photos)-1 {
		return nil, errors.New("the vision program answered something else")
	}
	depths, err := relief.Fit(request.Reference, request.Strung(), reply.Depth.Matches)
	var refusal *relief.Refusal
	if errors.As(err, &refusal) {
		return &Laid{Refused: refusal}, nil
	}
	return &Laid{Depths: depths}, err
}
