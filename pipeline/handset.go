package pipeline

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/words"
)

// refineReads is where and what a person put a reference, and the picture; nil
// where nobody did, or by two points, at which nothing is looked for.
func (t *task) refineReads() any {
	h := t.heard.Reference
	if h == nil || h.Value.Corners == nil {
		return nil
	}
	return []any{t.r.Photo.SHA256, t.r.Photo.Orientation, t.r.Camera(), h.Value.String(), t.opencv}
}

func (t *task) handMarksPath() string {
	return t.season.Dir.Paper(record.HandMarksFile(t.r.Name()))
}

func (t *task) refineStands() bool {
	_, err := os.Stat(t.handMarksPath())
	return err == nil
}

// refine has the child measure the reference at the corners that a person put.
func (t *task) refine(ctx context.Context) error {
	h := t.heard.Reference.Value
	found, err := Refine(ctx, t.child, t.r.Source(t.root), h)
	if err == nil {
		err = t.stands()
	}
	if err != nil {
		if stops(ctx, err) {
			return err
		}
		t.r.AddNote("refine", "run again", true, "the reference set by hand was not looked at: %v", err)
		t.r.Notes[len(t.r.Notes)-1].Again = true
		return nil
	}
	text, err := json.Marshal(handMarks{h.String(), found})
	if err != nil {
		return err
	}
	if err := keep.Bytes(t.handMarksPath(), 0o600, text); err != nil {
		return err
	}
	return t.season.Dir.Finish(record.HandMarksFile(t.r.Name()))
}

// Refine asks a child for the marks at the corners of a reference set by hand.
func Refine(ctx context.Context, child *children.Child, source look.Source, h words.HandSet) (look.Found, error) {
	request := look.RefineRequest{Source: source, Reference: h.Reference, Corners: h.Corners, PickPx: pickOf(h)}
	reply, err := child.Ask(ctx, look.Request{Refine: &request})
	if err == nil && reply.Refine == nil {
		err = errOther
	}
	if err != nil {
		return look.Found{}, err
	}
	return reply.Refine.Found, nil
}

func pickOf(h words.HandSet) float64 {
	if h.PickPx > 0 {
		return h.PickPx
	}
	return calibrate.DefaultPickPx
}

// handMarks are what was found, and at which corners.
type handMarks struct {
	At    string     `json:"at"`
	Found look.Found `json:"found"`
}

// foundByHand is what refine found at these corners; nothing where it was not
// done, or for others.
func (t *task) foundByHand(h words.HandSet) look.Found {
	var m handMarks
	text, err := os.ReadFile(t.handMarksPath())
	if err != nil || json.Unmarshal(text, &m) != nil || m.At != h.String() {
		return look.Found{}
	}
	return m.Found
}

// sightingByHand is the one sighting of a photo in which a person put a
// reference: that word counts, whatever else is in the picture.
func (t *task) sightingByHand(told words.Told[words.HandSet]) (calibrate.Sighting, error) {
	h := told.Value
	sighting, err := t.fitByHand(h, t.foundByHand(h))
	sighting.By = told.Line.By
	if r := sighting.Refused; r != nil {
		t.r.AddNote("fit", r.Retake, true, "%s: %s", told, r.Reason)
	}
	return sighting, err
}

// fitByHand makes the sighting with what is known of the reference and of the
// picture's shape.
func (t *task) fitByHand(h words.HandSet, found look.Found) (calibrate.Sighting, error) {
	h.Reference = t.carried(h.Reference)
	if refused := t.unfit(h.Reference); refused != nil {
		return calibrate.Sighting{Reference: h.Reference, Refused: refused}, nil
	}
	return FitByHand(h, t.r.Camera(), found)
}

// carried is a reference with what season.toml and the set-up tell of the like.
func (t *task) carried(ref calibrate.Reference) calibrate.Reference {
	for _, own := range t.laid() {
		if own.Kind != ref.Kind || own.SquareCm != ref.SquareCm || own.PitchCm != ref.PitchCm || own.BlockCm != ref.BlockCm || own.LengthCm != ref.LengthCm || own.Kind == calibrate.KindCard && own.Card != ref.Card {
			continue
		}
		ref.Name, ref.CheckLineMm, ref.DiagonalsCm = own.Name, own.CheckLineMm, own.DiagonalsCm
		if ref.ToleranceCm == nil {
			ref.ToleranceCm = own.ToleranceCm
		}
		break
	}
	return ref
}

// FitByHand makes the plane of a reference set by hand: from the marks that
// were found at its corners where they fit, else from the corners alone, with
// the uncertainty of picking in U.
func FitByHand(h words.HandSet, camera calibrate.Camera, found look.Found) (calibrate.Sighting, error) {
	sighting := calibrate.Sighting{Reference: h.Reference}
	var plane *calibrate.Plane
	var err error
	switch {
	case found.Marks != nil:
		sighting.Counted = found.Counted + " found where it was set by hand"
		plane, err = calibrate.FitReference(h.Reference.Uncounted(), camera, found.Marks)
	case found.Miscounted:
		err = found.Refused // its size would be wrong
	case h.Reference.Puts() == 2:
		sighting.Reference = twoPlaces(h)
		sighting.Counted = setAlone("two ends", h, found)
		plane, err = calibrate.FitPoints(sighting.Reference, camera)
	default:
		sighting.Counted = setAlone("four corners", h, found)
		plane, err = calibrate.FitCorners(h.Reference, camera, [4]calibrate.Point(h.Corners), pickOf(h))
	}
	var refusal *calibrate.Refusal
	if errors.As(err, &refusal) {
		sighting.Refused = refusal
		return sighting, nil
	}
	sighting.Plane = plane
	return sighting, err
}

// setAlone says that nothing carries a reference but the places that a person
// put, and why.
func setAlone(places string, h words.HandSet, found look.Found) string {
	text := fmt.Sprintf("%s set by hand, each to %g px", places, pickOf(h))
	if why := found.Refused; why != nil {
		text += "; looked for there: " + why.Reason
	}
	return text
}

// twoPlaces is what the two ends of a bar or tape tell alone: a length.
func twoPlaces(h words.HandSet) calibrate.Reference {
	ref := h.Reference
	if ref.Kind == calibrate.KindBar {
		ref = calibrate.Reference{Name: ref.Name, Kind: calibrate.KindPoints, LengthCm: ref.LengthCm, ToleranceCm: ref.ToleranceCm, From: &h.Corners[0], To: &h.Corners[1]}
	}
	ref.PickPx = pickOf(h)
	return ref
}
