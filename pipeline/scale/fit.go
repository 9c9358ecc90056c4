package scale

import (
	"errors"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
)

// An Input is a photo with what was found in it.
type Input struct {
	evidence.Photo
	Carried []calibrate.Reference // by the season, or named on the command line
	Found   []look.Found          // what came of those that pixels are read for, in their order
	AtHand  look.Found            // what was found at the corners that a person put
}

// Reads is all that [Fit] goes by but the marks themselves, to be hashed.
func (in Input) Reads() []any {
	reads := []any{in.Keys["look"], in.laid(), in.Camera(), in.Capture.Shape, in.ToldOfSizes()}
	if h := in.Words.Reference; h != nil {
		reads = append(reads, h.Value.String(), h.Line.By, in.Keys["refine"])
	}
	return reads
}

// Fit makes the plane of every reference, or keeps the reason for none, and the
// depths between them. Every number that ends on a plate comes from here. A
// reference that a person put gives the scale alone, and none where another in
// the picture contradicts it. An error is no fault of the photo.
func Fit(in Input) ([]calibrate.Sighting, []record.DepthBetween, error) {
	seen, err := in.seen()
	if err != nil {
		return nil, nil, err
	}
	told := in.Words.Reference
	if told == nil {
		sightings := evidence.Sizes(seen, in.ToldOfSizes())
		return sightings, levels(sightings), nil
	}
	put := evidence.Seen{}
	if put.Sighting, err = in.Manual(told.Value, in.AtHand); err != nil {
		return nil, nil, err
	}
	put.By = told.Line.By
	sightings := evidence.Sizes(beside(put, told.Value.Reference, seen), in.ToldOfSizes())
	levels(sightings)
	return sightings[:1], nil, nil
}

// beside puts a reference that a person put before those that were found, but
// for what its own marks may have been found as; tiles tell of any strings.
func beside(put evidence.Seen, ref calibrate.Reference, found []evidence.Seen) []evidence.Seen {
	all := []evidence.Seen{put}
	for _, s := range found {
		own := s.Reference.Kind == ref.Kind && (s.Reference.Card == ref.Card || s.Reference.Card == 0 || ref.Card == 0)
		switch {
		case !own:
			all = append(all, s)
		case len(s.Tiles) > 0:
			all[0].Tiles = s.Tiles
		}
	}
	return all
}

// seen is every reference that was looked for, with its plane or the reason for none.
func (in Input) seen() (seen []evidence.Seen, err error) {
	next := 0
	for _, ref := range in.laid() {
		one := evidence.Seen{Sighting: calibrate.Sighting{Reference: ref}}
		if ref.Kind != calibrate.KindPoints {
			f := in.Found[next]
			one.Counted, one.Refused, one.Marks, one.Tiles = f.Counted, f.Refused, f.Marks, f.Tiles
			next++
			if f.Marks == nil && f.Refused == nil {
				one.Refused = calibrate.Refuse("", "%s: the photo was not looked at", ref).At(calibrate.Unseen)
			}
		}
		if refused := in.unfit(ref); refused != nil {
			one.Refused = refused
		}
		if one.Refused == nil {
			if err := fitted(&one, in.Camera()); err != nil {
				return nil, err
			}
		}
		seen = append(seen, one)
	}
	return seen, nil
}

// laid is the references as they were laid for this photo: where the
// diagonals of its set-up were taped, its grid has those and not the season's.
func (in Input) laid() []calibrate.Reference {
	refs := slices.Clone(in.Carried)
	set := in.OneSetUp()
	if set == nil || set.Diagonal1Cm == nil || set.Diagonal2Cm == nil {
		return refs
	}
	for i, ref := range refs {
		if ref.Kind == calibrate.KindGrid && (set.PitchCm == nil || evidence.SamePitch(*set.PitchCm, ref.PitchCm)) {
			refs[i].DiagonalsCm = []float64{*set.Diagonal1Cm, *set.Diagonal2Cm}
		}
	}
	return refs
}

// fitted gives what was seen its plane, or the reason for none; an error is no
// fault of the photo.
func fitted(s *evidence.Seen, camera calibrate.Camera) error {
	plane, err := calibrate.FitReference(s.Reference, camera, s.Marks)
	if err == nil && s.Reference.TilesInCm != nil {
		if s.Tiled, err = plane.Tiled(s.Reference, s.Tiles); err != nil {
			s.Denied = evidence.DeniedByTiles(plane, s.Reference, s.Tiles)
		}
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

// unfit is why a reference gives no scale in this picture, whatever is found
// of it; nil: it may.
func (in Input) unfit(ref calibrate.Reference) *calibrate.Refusal {
	switch {
	case in.Shaped(intake.Panorama):
		return calibrate.Refuse("take one picture from one place", "%s: the picture is a panorama (%s), which no single plane fits", ref, in.Capture.Shape.Why)
	case ref.Kind.Few() && in.Shaped(intake.UltraWide):
		return calibrate.Refuse("use the camera's main lens, or a reference with many marks", "%s: the picture is from an ultra-wide lens (%s), whose stretch a %s cannot tell", ref, in.Capture.Shape.Why, ref.Kind)
	}
	return nil
}
