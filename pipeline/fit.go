package pipeline

import (
	"context"
	"errors"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// fitReads is the look's own key, what is known of the references, the camera
// and the picture's shape, and the reference that a person put by hand.
func (t *task) fitReads() any {
	reads := []any{t.r.Keys["look"], t.laid(), t.camera(), t.r.Capture.Shape}
	if set := t.setUp(); set != nil && set.PitchCm != nil {
		reads = append(reads, set.Name, *set.PitchCm)
	}
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

// pitchShare is how far a set-up's pitch may stand from that of the grid it is
// read by: 10 for a measured 10.05 is the same grid, 10 for four inches is not.
const pitchShare = 0.01

// otherPitch refuses a grid of which the photo's set-up gives another pitch:
// one of the two is wrong, and the strings alone do not tell which. A scale
// that a person set by hand counts all the same.
func (t *task) otherPitch(ref calibrate.Reference) *calibrate.Refusal {
	set := t.setUp()
	if ref.Kind != calibrate.KindGrid || set == nil || set.PitchCm == nil || math.Abs(*set.PitchCm-ref.PitchCm) <= pitchShare*ref.PitchCm {
		return nil
	}
	return calibrate.Refuse("correct the one that is wrong, pitch_cm of the set-up or the grid in season.toml, or name another set-up for the photo",
		"%s: set-up %s has a pitch of %g cm", ref, set.Name, *set.PitchCm)
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
		for _, refused := range []*calibrate.Refusal{t.otherPitch(ref), t.unfit(ref)} {
			if refused != nil {
				sighting.Refused = refused
			}
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
