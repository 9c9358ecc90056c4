package observe

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/scale"
	"fieldjacket/pipeline/words"
)

// RefineReads is where and what a person put a reference, and the picture; nil
// where nobody did, or by two points, at which nothing is looked for.
func (p *Photo) RefineReads(h *words.ManualReference) any {
	if h == nil || h.Corners == nil {
		return nil
	}
	return []any{p.Photo.SHA256, p.Photo.Orientation, p.Camera(), h.String(), p.OpenCV}
}

func (p *Photo) manualMarksPath() string {
	return p.Season.Paper(record.HandMarksFile(p.Name()))
}

func (p *Photo) RefineStands() bool {
	_, err := os.Stat(p.manualMarksPath())
	return err == nil
}

// Refine has the child measure the reference at the corners that a person put.
func (p *Photo) Refine(ctx context.Context, h words.ManualReference) error {
	found, err := AskRefine(ctx, p.Child, p.Source(p.Folder), h)
	if err == nil {
		err = p.Unchanged()
	}
	if err != nil {
		if Fatal(ctx, err) {
			return err
		}
		p.AddNote("refine", "run again", true, "the reference set by hand was not looked at: %v", err)
		p.Notes[len(p.Notes)-1].Again = true
		return nil
	}
	text, err := json.Marshal(ManualMarks{h.String(), found})
	if err != nil {
		return err
	}
	if err := keep.Bytes(p.manualMarksPath(), 0o600, text); err != nil {
		return err
	}
	return p.Season.Finish(record.HandMarksFile(p.Name()))
}

// AskRefine asks a child for the marks at the corners of a reference set by hand.
func AskRefine(ctx context.Context, child *children.Child, source look.Source, h words.ManualReference) (look.Found, error) {
	request := look.RefineRequest{Source: source, Reference: h.Reference, Corners: h.Corners, PickPx: scale.PickPx(h)}
	reply, err := child.Ask(ctx, look.Request{Refine: &request})
	if err == nil && reply.Refine == nil {
		err = ErrProtocol
	}
	if err != nil {
		return look.Found{}, err
	}
	return reply.Refine.Found, nil
}

// ManualMarks are what was found, and at which corners.
type ManualMarks struct {
	At    string     `json:"at"`
	Found look.Found `json:"found"`
}

// FoundByHand is what refine found at these corners; nothing where it was not
// done, or for others. It fails where the file is there and the disk does not
// give it, as [Photo.Marks] does.
func (p *Photo) FoundByHand(h words.ManualReference) (look.Found, error) {
	var m ManualMarks
	text, err := os.ReadFile(p.manualMarksPath())
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return look.Found{}, err
	}
	if err != nil || json.Unmarshal(text, &m) != nil || m.At != h.String() {
		return look.Found{}, nil
	}
	return m.Found, nil
}
