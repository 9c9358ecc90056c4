package pipeline

import (
	"context"
	"errors"

	"fieldjacket/calibrate"
)

// fitReads is the look's own key, what is known of the references, and the
// camera.
func (t *task) fitReads() any { return []any{t.r.Keys["look"], t.refs, t.camera()} }

// fit makes the plane of every reference, or keeps the reason for none. Every
// number that ends on a plate comes from here.
func (t *task) fit(_ context.Context) error {
	t.r.Sightings, t.r.Levels = nil, nil
	found, next := t.marks(), 0
	for _, ref := range t.refs {
		if !ref.Kind.Built() {
			continue
		}
		sighting := calibrate.Sighting{Reference: ref}
		var marks []calibrate.Mark
		if ref.Kind != calibrate.KindPoints {
			sighting.Counted, sighting.Refused, marks = found[next].Counted, found[next].Refused, found[next].Marks
			next++
			if marks == nil && sighting.Refused == nil {
				sighting.Refused = calibrate.Refuse("", "%s: the photo was not looked at", ref)
			}
		}
		if sighting.Refused == nil {
			plane, err := calibrate.FitReference(ref, t.camera(), marks)
			var refusal *calibrate.Refusal
			switch {
			case errors.As(err, &refusal):
				sighting.Refused = refusal
			case err != nil:
				return err
			default:
				sighting.Plane = plane
			}
		}
		t.r.Sightings = append(t.r.Sightings, sighting)
	}
	t.r.Levels = levels(t.r.Sightings)
	return nil
}
