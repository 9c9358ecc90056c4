package observe

import (
	"context"
	"encoding/json"
	"fmt"
	"path"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
)

// MeasureDepth asks a child how deep the ground lies below the strings of one laid grid, and keeps under a key what comes of it
// beside the first photo, whose record tells of it. An error ends the run.
func MeasureDepth(ctx context.Context, child *children.Child, openCV, key string, photos []*Photo) error {
	first := photos[0]
	first.DropNotes(record.DepthStage)
	delete(first.Keys, record.DepthStage)
	d, err := measureDepth(ctx, child, photos)
	if err != nil {
		if Fatal(ctx, err) {
			return err
		}
		first.AddNote(record.DepthStage, "run again; if that changes nothing, measure the depth by hand", false, "depth below the strings not measured: %v", err)
		first.Notes[len(first.Notes)-1].Again = Transient(err)
		return nil
	}
	d.Key, d.OpenCV = key, openCV
	if r := d.Refused; r != nil {
		var files []string
		for _, p := range photos {
			files = append(files, path.Base(p.Photo.File))
		}
		first.AddNote(record.DepthStage, r.Retake, false, "depth below the strings not measured from %s: %s", strings.Join(files, ", "), r.Reason)
	}
	text, err := json.Marshal(d)
	if err != nil {
		return err
	}
	file := record.DepthFile(first.Name())
	if err := keep.Bytes(first.Season.Paper(file), 0o600, text); err != nil {
		return err
	}
	if err := first.Season.Finish(file); err != nil {
		return err
	}
	first.Keys[record.DepthStage] = key
	return nil
}

// ForgetDepth takes away what was measured of photos of which this one is the first no longer.
func (p *Photo) ForgetDepth() error {
	p.DropNotes(record.DepthStage)
	delete(p.Keys, record.DepthStage)
	return p.Season.Remove(record.DepthFile(p.Name()))
}

// measureDepth has a child match the photos and makes the fit. Those whose strings could not be laid on the first photo's, as of
// another place, are left out.
func measureDepth(ctx context.Context, child *children.Child, photos []*Photo) (*record.Depth, error) {
	_, sighting := photos[0].Plane()
	request := look.DepthRequest{Reference: sighting.Reference}
	for _, p := range photos {
		strung, err := p.Strung()
		if err != nil {
			return nil, err
		}
		request.Photos = append(request.Photos, strung)
	}
	found, err := AskDepth(ctx, child, request)
	for _, p := range photos {
		if err == nil {
			err = p.Unchanged()
		}
	}
	if err != nil {
		return nil, err
	}
	d := &record.Depth{Files: []string{photos[0].Photo.File}}
	clear, matches := request.Strung()[:1], found[:0:0]
	for k, m := range found {
		if m.Clear() {
			clear, matches, d.Files = append(clear, request.Strung()[k+1]), append(matches, m), append(d.Files, photos[k+1].Photo.File)
		}
	}
	if len(matches) == 0 { // the refusal says why
		clear, matches = request.Strung(), found
	}
	d.Depths, err = relief.Fit(request.Reference, clear, matches)
	if d.Refused = relief.AsRefusal(err); err != nil && d.Refused == nil {
		return nil, err
	}
	return d, nil
}

// AskDepth has a child match photos of one laid grid with the first of them.
func AskDepth(ctx context.Context, child *children.Child, request look.DepthRequest) ([]relief.Matches, error) {
	reply, err := child.Ask(ctx, look.Request{Depth: &request})
	if err != nil {
		return nil, err
	}
	if reply.Depth == nil || len(reply.Depth.Matches) != len(request.Photos)-1 {
		return nil, ErrProtocol
	}
	return reply.Depth.Matches, nil
}

// Strung is the photo with the strings that its plane was fitted to. The error says that their marks are not at hand.
func (p *Photo) Strung() (look.DepthPhoto, error) {
	found, err := p.Marks()
	if err != nil {
		return look.DepthPhoto{}, err
	}
	plane, sighting := p.Plane()
	for i, ref := range p.Sought() {
		if plane != nil && ref.Kind == calibrate.KindGrid && ref.Name == sighting.Reference.Name && ref.PitchCm == sighting.Reference.PitchCm && len(found[i].Marks) > 0 {
			return look.DepthPhoto{Source: p.Source(p.Folder), Plane: *plane, Marks: found[i].Marks}, nil
		}
	}
	return look.DepthPhoto{}, fmt.Errorf("%s: the marks of its strings are not at hand", p.Photo.File)
}
