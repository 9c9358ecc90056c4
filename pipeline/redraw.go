package pipeline

import (
	"context"
	"slices"
	"time"

	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/missing"
	"fieldjacket/pipeline/printing"
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

// PrintPlate draws one plate at a true scale, as the last run knew its photo and as the season is now, and says what it wrote.
func (s *Season) PrintPlate(ctx context.Context, child *children.Child, o printing.Options) (says string, err error) {
	g, err := s.gathered(ctx)
	if err != nil {
		return "", err
	}
	made := func(r *record.Record) time.Time {
		return s.published(State{Records: []*record.Record{r}}, nil).Latest()
	}
	return printing.Season{Dir: s.Dir, Made: made}.Plate(ctx, child, photosOf(g.tasks), o)
}
