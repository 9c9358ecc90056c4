package pipeline

import (
	"context"

	"fieldjacket/pipeline/scale"
)

// scaling is the photo with what was found in it.
func (t *task) scaling() scale.Input {
	in := scale.Input{Photo: t.p, Carried: t.see.Refs, Found: t.see.Marks()}
	if h := t.p.Words.Reference; h != nil {
		in.AtHand = t.see.FoundByHand(h.Value)
	}
	return in
}

// fitReads is all that the fit goes by.
func (t *task) fitReads() any {
	if len(t.r.Sightings) > 0 && t.r.ToRepeat("look") {
		return nil // what an earlier run saw stands
	}
	return scale.Input{Photo: t.p, Carried: t.see.Refs}.Reads()
}

// fit makes the plane of every reference, or keeps the reason for none.
func (t *task) fit(_ context.Context) error {
	var err error
	t.r.Sightings, t.r.Levels, err = scale.Fit(t.scaling())
	if told := t.p.Words.Reference; told != nil && err == nil {
		if r := t.r.Sightings[0].Refused; r != nil {
			t.r.AddNote("fit", r.Retake, true, "%s: %s", told, r.Reason)
		}
	}
	return err
}
