package pipeline

import (
	"context"
	"sync"
	"time"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/children"
)

// RunOptions changes how a season is run. The zero value is the default.
type RunOptions struct {
	Children   int           // vision children at work; 0: what the machine bears
	PhotoLimit time.Duration // time per photo; 0: children.PhotoLimit
	Program    string        // the vision program; empty: there is none, nothing is looked at and no plate drawn
}

// A Reporter is told of the work as it goes. Its methods are called from one
// goroutine at a time.
type Reporter interface {
	Started(photos int)
	Photo(r *Record, redone bool) // redone: at least one stage was done anew
	Stage(name string)            // a stage of the whole season begins
}

// An outcome is all that a run knows when the photos are done.
type outcome struct {
	records []*Record // in the order of their files
	report  audit.Report
	summary Summary
	now     map[string]bool // slash paths below paper/ that this run stands by
}

// A Summary is how a run came out.
type Summary struct {
	Photos     int      `json:"photos"`      // files that are photos, also unreadable ones
	Scaled     int      `json:"scaled"`      // photos with a plane
	Unreadable int      `json:"unreadable"`  // photos that could not be read or decoded
	Unassigned int      `json:"unassigned"`  // photos that belong to no jacket and are not left out
	Conflicts  int      `json:"conflicts"`   // photos whose signs contradict each other
	NotPhotos  int      `json:"not_photos"`  // other files below photos/
	Redone     int      `json:"redone"`      // photos for which a stage was done anew
	Plates     int      `json:"plates"`      // plates that stand now
	Drawn      int      `json:"drawn"`       // plates drawn by this run
	Packets    int      `json:"packets"`     // packets written by this run
	Problems   int      `json:"problems"`    // faults of the register
	Incomplete int      `json:"incomplete"`  // jackets that lack something at their stage
	NoVision   bool     `json:"no_vision"`   // nothing was looked at: the vision program is missing
	Days       []string `json:"days"`        // the day pages, as paths below paper/
	Person     bool     `json:"needs_person"`
}

// Run takes every photo of the season through its stages and writes the
// paper. Photos already done are not done again. An error means that the run
// stopped: the season's folder cannot be read or written, ctx ended, or the
// vision program does not start. What was finished until then is kept.
func (s *Season) Run(ctx context.Context, o RunOptions, tell Reporter) (Summary, audit.Report, error) {
	unlock, err := s.lock()
	if err != nil {
		return Summary{}, audit.Report{}, err
	}
	defer unlock()
	files, err := s.list(ctx)
	if err != nil {
		return Summary{}, audit.Report{}, err
	}
	earlier, err := s.records()
	if err != nil {
		return Summary{}, audit.Report{}, err
	}
	var crew *children.Crew
	workers := o.Children
	if workers == 0 {
		workers = children.Fitting()
	}
	if o.Program != "" {
		if crew, err = children.Start(ctx, o.Program, workers, o.PhotoLimit); err != nil {
			return Summary{}, audit.Report{}, err
		}
		defer crew.Close()
	}
	tell.Started(len(files))
	out := &outcome{records: make([]*Record, len(files)), now: map[string]bool{}}
	out.summary.NoVision = crew == nil
	if err := s.each(ctx, files, earlier, crew, workers, out, tell); err != nil {
		return out.summary, audit.Report{}, err
	}
	for _, step := range seasonSteps {
		tell.Stage(step.name)
		if err := step.do(ctx, s, out); err != nil {
			return out.summary, out.report, err
		}
	}
	return out.summary, out.report, nil
}

// each takes the files through the photo steps, in order, one worker per
// child. The first error stops all workers.
func (s *Season) each(ctx context.Context, files []string, earlier map[string]*Record, crew *children.Crew, workers int, out *outcome, tell Reporter) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	jobs := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	for w := range workers {
		wg.Go(func() {
			for i := range jobs {
				t := &task{season: s, root: s.photos(), refs: s.references(), r: earlier[files[i]]}
				if t.r == nil {
					t.r = &Record{}
				}
				t.r.Photo.File = files[i]
				if crew != nil {
					t.child, t.opencv = crew.Child(w), crew.OpenCV()
				}
				before := hashOf(t.r)
				if err := t.through(ctx, photoSteps); err != nil {
					cancel(err)
					return
				}
				redone := hashOf(t.r) != before
				if redone {
					if err := s.save(t.r); err != nil {
						cancel(err)
						return
					}
				}
				mu.Lock()
				out.records[i] = t.r
				if redone {
					out.summary.Redone++
				}
				out.summary.Drawn += t.drawn
				tell.Photo(t.r, redone)
				mu.Unlock()
			}
		})
	}
	for i := range files {
		select {
		case jobs <- i:
			continue
		case <-ctx.Done():
		}
		break
	}
	close(jobs)
	wg.Wait()
	return context.Cause(ctx)
}
