package pipeline

import (
	"context"
	"sync"

	"fieldjacket/pipeline/assembly"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/record"
)

// measureDepths measures the sets of which nothing is kept. measured tells
// whether there were any.
func (g *gathering) measureDepths(ctx context.Context, pool *children.Pool, workers int) (measured bool, err error) {
	var todo []assembly.Set
	first := map[*assembly.Photo]bool{}
	for _, s := range assembly.Sets(photosOf(g.tasks)) {
		if len(s.Photos) < 2 {
			continue
		}
		first[s.Photos[0]] = true
		d, err := g.by.Depths.Of(s)
		if err != nil {
			return false, err
		}
		if pool != nil && (d == nil || d.OpenCV != pool.OpenCV()) && !s.Photos[0].Record().ToRepeat(record.DepthStage) {
			todo = append(todo, s)
		}
	}
	for _, t := range g.tasks { // those that are the first of a set no longer
		if t.r.Keys[record.DepthStage] != "" && !first[t.photo] {
			if err := t.see.ForgetDepth(); err != nil {
				return false, err
			}
			if _, err := t.keep(); err != nil {
				return false, err
			}
		}
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	jobs := make(chan assembly.Set)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for s := range jobs {
				if ctx.Err() == nil {
					if err := g.measure(ctx, s, pool.Child(w), pool.OpenCV()); err != nil {
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

// measure measures one set and keeps the first photo's record.
func (g *gathering) measure(ctx context.Context, s assembly.Set, child *children.Child, openCV string) error {
	first := g.of[s.Photos[0]]
	var photos []*observe.Photo
	for _, p := range s.Photos {
		photos = append(photos, &g.of[p].see)
	}
	if err := observe.MeasureDepth(ctx, child, openCV, s.Key, photos); err != nil {
		return err
	}
	_, err := first.keep()
	return err
}
