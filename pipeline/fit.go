package pipeline

import (
	"context"

	"fieldjacket/pipeline/scale"
)

// scaling is the photo with what was found in it.
func (t *task) scaling() scale.Input {
	in := scale.Input{Photo: t.p, Carried: t.refs, Found: t.marks()}
	if h := t.p.Words.Reference; h != nil {
		in.AtHand = t.foundByHand(h.Value)
	}
	return in
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
