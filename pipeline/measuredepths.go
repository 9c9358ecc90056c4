package pipeline

import (
	"context"
	"encoding/json"
	"fmt"
	"path"
	"strings"
	"sync"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/record"
)

// measureDepths measures the sets of which nothing is kept. measured tells
// whether there were any.
func (g *gathering) measureDepths(ctx context.Context, pool *children.Pool, workers int) (measured bool, err error) {
	var todo []set
	first := map[*task]bool{}
	for _, s := range g.sets() {
		if len(s.tasks) < 2 {
			continue
		}
		first[s.tasks[0]] = true
		d, err := s.kept(g)
		if err != nil {
			return false, err
		}
		if pool != nil && (d == nil || d.OpenCV != pool.OpenCV()) && !s.tasks[0].r.ToRepeat(depthStage) {
			todo = append(todo, s)
		}
	}
	for _, t := range g.tasks { // those that are the first of a set no longer
		if t.r.Keys[depthStage] != "" && !first[t] {
			if err := t.forgetDepth(); err != nil {
				return false, err
			}
		}
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	jobs := make(chan set)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for s := range jobs {
				if ctx.Err() == nil {
					if err := s.measure(ctx, pool.Child(w), pool.OpenCV()); err != nil {
						cancel(err)
					}
				}
			}
		})
	}
	for _, s := range todo {
		jobs <- s
	}
	close(jobs)
	wg.Wait()
	return len(todo) > 0, context.Cause(ctx)
}

// measure asks a child for one set and keeps what comes of it.
func (s set) measure(ctx context.Context, child *children.Child, openCV string) error {
	first := s.tasks[0]
	first.r.DropNotes(depthStage)
	delete(first.r.Keys, depthStage)
	d, err := s.ask(ctx, child)
	if err != nil {
		if observe.Fatal(ctx, err) {
			return err
		}
		first.r.AddNote(depthStage, "run again; if that changes nothing, measure the depth by hand", false, "depth below the strings not measured: %v", err)
		first.r.Notes[len(first.r.Notes)-1].Again = observe.Transient(err)
		_, err = first.keep()
		return err
	}
	d.Key, d.OpenCV = s.key, openCV
	if r := d.Refused; r != nil {
		var files []string
		for _, t := range s.tasks {
			files = append(files, path.Base(t.r.Photo.File))
		}
		first.r.AddNote(depthStage, r.Retake, false, "depth below the strings not measured from %s: %s", strings.Join(files, ", "), r.Reason)
	}
	text, err := json.Marshal(d)
	if err != nil {
		return err
	}
	dir, file := first.season.Dir, record.DepthFile(first.r.Name())
	if err := keep.Bytes(dir.Paper(file), 0o600, text); err != nil {
		return err
	}
	if err := dir.Finish(file); err != nil {
		return err
	}
	first.r.Keys[depthStage] = s.key
	_, err = first.keep()
	return err
}

// forgetDepth takes away what was measured of a set that is none any longer.
func (t *task) forgetDepth() error {
	t.r.DropNotes(depthStage)
	delete(t.r.Keys, depthStage)
	if err := t.season.Dir.Remove(record.DepthFile(t.r.Name())); err != nil {
		return err
	}
	_, err := t.keep()
	return err
}

// ask has a child match the set's photos and makes the fit. Those whose strings could not be laid on the first photo's, as of
// another place, are left out.
func (s set) ask(ctx context.Context, child *children.Child) (*record.Depth, error) {
	_, sighting := s.tasks[0].r.Plane()
	request := look.DepthRequest{Reference: sighting.Reference}
	for _, t := range s.tasks {
		marks, err := t.strings()
		if err != nil {
			return nil, err
		}
		plane, _ := t.r.Plane()
		request.Photos = append(request.Photos, look.DepthPhoto{Source: t.r.Source(t.see.Folder), Plane: *plane, Marks: marks})
	}
	reply, err := child.Ask(ctx, look.Request{Depth: &request})
	if err == nil && (reply.Depth == nil || len(reply.Depth.Matches) != len(request.Photos)-1) {
		err = observe.ErrProtocol
	}
	for _, t := range s.tasks {
		if err == nil {
			err = t.see.Unchanged()
		}
	}
	if err != nil {
		return nil, err
	}
	d := &record.Depth{Files: []string{s.tasks[0].r.Photo.File}}
	photos, matches := request.Strung()[:1], reply.Depth.Matches[:0:0]
	for k, m := range reply.Depth.Matches {
		if m.Clear() {
			photos, matches, d.Files = append(photos, request.Strung()[k+1]), append(matches, m), append(d.Files, s.tasks[k+1].r.Photo.File)
		}
	}
	if len(matches) == 0 { // the refusal says why
		photos, matches = request.Strung(), reply.Depth.Matches
	}
	d.Depths, err = relief.Fit(request.Reference, photos, matches)
	if d.Refused = relief.AsRefusal(err); err != nil && d.Refused == nil {
		return nil, err
	}
	return d, nil
}

// strings are the marks that the photo's plane was fitted to.
func (t *task) strings() ([]calibrate.Mark, error) {
	found, err := t.see.Marks()
	if err != nil {
		return nil, err
	}
	_, sighting := t.r.Plane()
	for i, ref := range t.see.Sought() {
		if ref.Kind == calibrate.KindGrid && ref.Name == sighting.Reference.Name && ref.PitchCm == sighting.Reference.PitchCm && len(found[i].Marks) > 0 {
			return found[i].Marks, nil
		}
	}
	return nil, fmt.Errorf("%s: the marks of its strings are not at hand", t.r.Photo.File)
}
