package loose

import (
	"context"
	"fmt"
	"path/filepath"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/record"
)

// A Laid is what photos of one laid grid tell of the ground: exactly one of
// the two is set.
type Laid struct {
	Depths  *relief.Depths
	Refused *relief.Refusal
}

// ReadWith is [Read] for a photo of a grid with others of the same laid grid,
// which tell how deep the ground lies. Laid is nil where the first photo was
// not scaled.
func ReadWith(ctx context.Context, child *children.Child, path string, with []string, ref calibrate.Reference, drawn *Overlay) (*record.Record, *Laid, error) {
	if ref.Kind != calibrate.KindGrid {
		return nil, nil, fmt.Errorf("depth from several photos needs a grid of strings, not a %s", ref.Kind)
	}
	refs := []calibrate.Reference{ref}
	first, err := read(ctx, child, path, refs, drawn)
	if err != nil {
		return nil, nil, err
	}
	if first.Sightings[0].Plane == nil {
		return first.Record, nil, nil
	}
	request := look.DepthRequest{Reference: ref}
	var shots []relief.Shot
	for k, name := range append([]string{path}, with...) {
		p := first
		if k > 0 {
			if p, err = read(ctx, child, name, refs, nil); err != nil {
				return first.Record, nil, fmt.Errorf("%s: %w", name, err)
			}
		}
		photo, err := p.Strung()
		if refused := p.Sightings[0].Refused; refused != nil {
			return first.Record, &Laid{Refused: relief.NotScaled(filepath.Base(name), refused)}, nil
		} else if err != nil {
			return first.Record, &Laid{Refused: relief.NotScaled(filepath.Base(name), calibrate.Refuse("take it again", "its strings are not at hand"))}, nil
		}
		request.Photos, shots = append(request.Photos, photo), append(shots, p.Shot())
	}
	laid, err := laidOf(ctx, child, request, shots)
	return first.Record, laid, err
}

// laidOf has the child match the photos, and makes the one fit that counts.
func laidOf(ctx context.Context, child *children.Child, request look.DepthRequest, shots []relief.Shot) (*Laid, error) {
	if refusal := relief.Belong(shots); refusal != nil {
		return &Laid{Refused: refusal}, nil
	}
	matches, err := observe.AskDepth(ctx, child, request)
	if err != nil {
		return nil, err
	}
	depths, err := relief.Fit(request.Reference, request.Strung(), matches)
	if refusal := relief.AsRefusal(err); refusal != nil {
		return &Laid{Refused: refusal}, nil
	}
	return &Laid{Depths: depths}, err
}
