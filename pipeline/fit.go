package pipeline

import (
	"context"
	"errors"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/register"
)

// fitReads is the look's own key, what is known of the references, the camera
// and the picture's shape, what is told of sizes, and the reference that a person
// put by hand.
func (t *task) fitReads() any {
	reads := []any{t.r.Keys["look"], t.laid(), t.r.Camera(), t.r.Capture.Shape, t.toldOfSizes()}
	if h := t.heard.Reference; h != nil {
		reads = append(reads, h.Value.String(), h.Line.By, t.r.Keys["refine"])
	}
	return reads
}

// laid is the references as they were laid for this photo: where the
// diagonals of its set-up were taped, its grid has those and not the season's.
func (t *task) laid() []calibrate.Reference {
	refs := slices.Clone(t.refs)
	set := t.setUp()
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

// setUp is the set-up that a person named for the photo, or the one that all
// its jackets have; nil: not known.
func (t *task) setUp() (set *register.SetUp) {
	if t.season == nil {
		return nil
	}
	numbers := t.r.Belongs.Jackets
	if t.r.Belongs.SetUp != "" {
		numbers = []string{""} // a person named it
	}
	for i, number := range numbers {
		u := t.season.setUp(t.r.Belongs, number)
		if u == nil || i > 0 && u != set {
			return nil
		}
		set = u
	}
	return set
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
		t.r.Sightings = evidence.Sizes([]evidence.Seen{{Sighting: sighting}}, t.toldOfSizes())
		return nil
	}
	found, next := t.marks(), 0
	var seen []evidence.Seen
	for _, ref := range t.laid() {
		one := evidence.Seen{Sighting: calibrate.Sighting{Reference: ref}}
		if ref.Kind != calibrate.KindPoints {
			f := found[next]
			one.Counted, one.Refused, one.Marks, one.Tiles = f.Counted, f.Refused, f.Marks, f.Tiles
			next++
			if f.Marks == nil && f.Refused == nil {
				one.Refused = calibrate.Refuse("", "%s: the photo was not looked at", ref).At(calibrate.Unseen)
			}
		}
		if refused := t.unfit(ref); refused != nil {
			one.Refused = refused
		}
		if one.Refused == nil {
			if err := fitted(&one, t.r.Camera()); err != nil {
				return err
			}
		}
		seen = append(seen, one)
	}
	t.r.Sightings = evidence.Sizes(seen, t.toldOfSizes())
	t.r.Levels = levels(t.r.Sightings)
	return nil
}

// fitted gives what was seen its plane, or the reason for none; an error is no
// fault of the photo.
func fitted(s *evidence.Seen, camera calibrate.Camera) error {
	plane, err := calibrate.FitReference(s.Reference, camera, s.Marks)
	if err == nil && s.Reference.TilesInCm != nil {
		s.Tiled, err = plane.Tiled(s.Reference, s.Tiles)
	}
	var refusal *calibrate.Refusal
	switch {
	case errors.As(err, &refusal):
		s.Refused = refusal
	case err != nil:
		return err
	default:
		s.Plane = plane
		if s.Reference.Unmeasured() {
			s.Counted += "; its check line was never measured, so 3 % is allowed for"
		}
	}
	return nil
}
