package pipeline

import (
	"context"

	"fieldjacket/pipeline/scale"
)

// scaling is the photo with what was found in it.
func (t *task) scaling() (scale.Input, error) {
	found, err := t.see.Marks()
	in := scale.Input{Photo: t.photo.Evidence, Carried: t.see.Refs, Found: found}
	if h := t.photo.Evidence.Words.Reference; h != nil && err == nil {
		in.AtHand, err = t.see.FoundByHand(h.Value)
	}
	return in, err
}

// fitReads is all that the fit goes by.
func (t *task) fitReads() any {
	if len(t.r.Sightings) > 0 && t.r.ToRepeat("look") {
		return nil // what an earlier run saw stands
	}
	return scale.Input{Photo: t.photo.Evidence, Carried: t.see.Refs}.Reads()
}

// fit makes the plane of every reference, or keeps the reason for none.
func (t *task) fit(_ context.Context) error {
	in, err := t.scaling()
	if err != nil {
		return err
	}
	t.r.Sightings, t.r.DepthsBetween, err = scale.Fit(in)
	if told := t.photo.Evidence.Words.Reference; told != nil && err == nil {
		if r := t.r.Sightings[0].Refused; r != nil {
			t.r.AddNote("fit", r.Retake, true, "%s: %s", told, r.Reason)
		}
	}
	return err
}
