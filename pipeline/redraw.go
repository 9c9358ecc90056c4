package pipeline

import (
	"context"
	"slices"

	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/missing"
	"fieldjacket/pipeline/record"
)

// Redraw takes single photos through the stages of a run, so that their plates
// show at once what was said of them, and gives their records. All that
// depends on the whole season (packets, pages, photos that carry a placard on)
// waits for the next Run. pool may be nil: then what needs no look is done and
// no plate drawn.
func (s *Season) Redraw(ctx context.Context, pool *children.Pool, photos ...string) ([]*record.Record, error) {
	unlock, err := s.Dir.Lock()
	if err != nil {
		return nil, err
	}
	defer unlock()
	g, err := s.gather(ctx)
	if err != nil {
		return nil, err
	}
	if err := s.here().AsMuch(g.files(), g.by.Earlier, missing.Accepted{}); err != nil {
		return nil, err
	}
	var wanted []*task
	for _, t := range g.tasks {
		if slices.Contains(photos, t.r.Photo.File) {
			wanted = append(wanted, t)
		}
	}
	if err := each(ctx, wanted, readSteps, nil, 1, func(*task, bool) {}); err != nil {
		return nil, err
	}
	if _, err := g.settle(); err != nil {
		return nil, err
	}
	if err := each(ctx, wanted, photoSteps, pool, 1, func(*task, bool) {}); err != nil {
		return nil, err
	}
	var done []*record.Record
	for _, t := range wanted {
		t.tell()
		done = append(done, t.r)
	}
	return done, nil
}
