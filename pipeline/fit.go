package pipeline

import (
	"context"
	"errors"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// fitReads is the look's own key, what is known of the references, the camera
// and the picture's shape, and the reference that a person put by hand.
func (t *task) fitReads() any {
	reads := []any{t.r.Keys["look"], t.laid(), t.camera(), t.r.Capture.Shape}
	if h := t.heard.Reference; h != nil {
		reads = append(reads, h.Value.String(), h.Line.By, t.r.Keys["refine"])
	}
	return reads
}

// laid is the references as they were laid for this photo: where a person
// named its set-up, or all its jackets have the same one, and that one's
// diagonals were taped, its grid has those and not the season's.
func (t *task) laid() []calibrate.Reference {
	refs := slices.Clone(t.refs)
	if t.season == nil {
		return refs
	}
	var set *register.SetUp
	numbers := t.belongs.Jackets
	if t.belongs.SetUp != "" {
		numbers = []string{""} // a person named it
	}
	for i, number := range numbers {
		u := t.season.setUp(t.belongs, number)
		if u == nil || i > 0 && u != set {
			return refs
		}
		set = u
	}
	if set == nil || set.Diagonal1Cm == nil || set.Diagonal2Cm == nil {
		return refs
	}
	for i, ref := range refs {
		if ref.Kind == calibrate.KindGrid && (set.PitchCm == nil || *set.PitchCm == ref.PitchCm) {
			refs[i].DiagonalsCm = []float64{*set.Diagonal1Cm, *set.Diagonal2Cm}
		}
	}
	return refs
}

// fit makes the plane of every reference, or keeps the reason for none. Every
// number that ends on a plate comes from here.
func (t *task) fit(_ context.Context) error {
	t.r.Sightings, t.r.Levels = nil, nil
	if h := t.heard.Reference; h != nil {
		sighting, err := t.sightingByHand(*h)
		if err != nil {
			return err
		}
		t.r.Sightings = []calibrate.Sighting{sighting}
		return nil
	}
	found, next := t.marks(), 0
	for _, ref := range t.laid() {
		sighting := calibrate.Sighting{Reference: ref}
		var marks []calibrate.Mark
		var tiles []calibrate.Tile
		if ref.Kind != calibrate.KindPoints {
			sighting.Counted, sighting.Refused, marks, tiles = found[next].Counted, found[next].Refused, found[next].Marks, found[next].Tiles
			next++
			if marks == nil && sighting.Refused == nil {
				sighting.Refused = calibrate.Refuse("", "%s: the photo was not looked at", ref)
			}
		}
		if refused := t.unfit(ref); refused != nil {
			sighting.Refused = refused
		}
		if sighting.Refused == nil {
			plane, err := calibrate.FitReference(ref, t.camera(), marks)
			if err == nil && ref.TilesInCm != nil {
				sighting.Tiled, err = plane.Tiled(ref, tiles)
			}
			var refusal *calibrate.Refusal
			switch {
			case errors.As(err, &refusal):
				sighting.Refused = refusal
			case err != nil:
				return err
			default:
				sighting.Plane = plane
				if ref.Unmeasured() {
					sighting.Counted += "; its check line was never measured, so 3 % is allowed for"
				}
			}
		}
		t.r.Sightings = append(t.r.Sightings, sighting)
	}
	t.r.Levels = levels(t.r.Sightings)
	return nil
}
