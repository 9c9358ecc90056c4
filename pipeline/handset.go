package pipeline

import (
	"context"
	"encoding/json"
	"os"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/scale"
	"fieldjacket/pipeline/words"
)

// refineReads is where and what a person put a reference, and the picture; nil
// where nobody did, or by two points, at which nothing is looked for.
func (t *task) refineReads() any {
	h := t.p.Words.Reference
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
	h := t.p.Words.Reference.Value
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
	request := look.RefineRequest{Source: source, Reference: h.Reference, Corners: h.Corners, PickPx: scale.PickPx(h)}
	reply, err := child.Ask(ctx, look.Request{Refine: &request})
	if err == nil && reply.Refine == nil {
		err = errOther
	}
	if err != nil {
		return look.Found{}, err
	}
	return reply.Refine.Found, nil
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
