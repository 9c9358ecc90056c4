package pipeline

import (
	"context"
	"time"

	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/missing"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/publish"
	"fieldjacket/pipeline/record"
)

// RunOptions changes how a season is run. The zero value is the default.
type RunOptions struct {
	Children   int           // vision children at work; 0: what the machine bears
	PhotoLimit time.Duration // time per photo; 0: children.PhotoLimit
	Program    string        // the vision program; empty: there is none, nothing is looked at and no plate drawn

	missing.Accepted // what the last run knew, and is not here, that is gone for good
}

// workers is how many photos are processed at once: as asked for, or as many as
// the machine bears of the largest of these.
func (o RunOptions) workers(tasks []*task) int {
	if o.Children != 0 {
		return o.Children
	}
	return children.Fitting(mostPixels(tasks))
}

// A Reporter is told of the work as it goes. Its methods are called from one
// goroutine at a time.
type Reporter interface {
	Started(photos int)
	Photo(file string)        // a photo is through its stages; what others show may still change it
	Settled(r *record.Record) // all photos are, and this is what the run learned of one; in the order of their files
	Stage(name string)        // a stage of the whole season begins
}

// An outcome is all that a run knows when the photos are done.
type outcome struct {
	State
	earlier record.All     // records of the runs before
	perDay  []phones.Count // what each phone took
	summary Summary
}

// A Summary is how a run came out.
type Summary struct {
	Photos     int      `json:"photos"`     // files that are photos, also unreadable ones
	Scaled     int      `json:"scaled"`     // photos with a plane
	Unreadable int      `json:"unreadable"` // photos that could not be read or decoded
	Unassigned int      `json:"unassigned"` // photos that belong to no jacket and are not left out
	Conflicts  int      `json:"conflicts"`  // photos with conflicting jacket numbers or views
	Copies     []string `json:"copies"`     // files that count as one with another photo: "b.jpg: the same bytes as a.jpg, which stands for both"
	NoPlate    []string `json:"no_plate"`   // photos whose plates could not be drawn, with the reason
	NotMade    []string `json:"not_made"`   // packets, labels, lists and pages that could not be made, with the reason
	Damaged    []string `json:"damaged"`    // files below paper/ that were damaged since an earlier run wrote them, and were made anew as far as they are wanted
	Counted    int      `json:"counted"`    // photos in folders that are counted only
	NotPhotos  int      `json:"not_photos"` // other files below photos/
	Redone     int      `json:"redone"`     // photos for which a stage was done anew
	Looked     int      `json:"looked"`     // photos that were looked at by this run
	Plates     int      `json:"plates"`     // plates that stand now
	Drawn      int      `json:"drawn"`      // plates drawn by this run
	Packets    int      `json:"packets"`    // packets written by this run
	Problems   int      `json:"problems"`   // faults of the register
	Incomplete int      `json:"incomplete"` // jackets that lack something at their stage
	NoVision   bool     `json:"no_vision"`  // nothing was looked at: the vision program is missing
	Days       []string `json:"days"`       // the day pages, as paths below paper/
	Person     bool     `json:"needs_person"`
}

// Run takes every photo of the season through its stages and writes the
// paper. Photos already done are not done again. An error means that the run
// stopped: the season's folder cannot be read or written, ctx ended, or the
// vision program does not start. What was finished until then is kept.
func (s *Season) Run(ctx context.Context, o RunOptions, tell Reporter) (Summary, State, error) {
	out := &outcome{}
	err := s.run(ctx, o, tell, out)
	return out.summary, out.State, err
}

func (s *Season) run(ctx context.Context, o RunOptions, tell Reporter, out *outcome) error {
	unlock, err := s.Dir.Lock()
	if err != nil {
		return err
	}
	defer unlock()
	g, err := s.gather(ctx)
	if err != nil {
		return err
	}
	if err := s.here().AsMuch(g.files(), g.by.Earlier, o.Accepted); err != nil {
		return err
	}
	workers := o.workers(nil) // until the photos' sizes are known
	var pool *children.Pool
	if o.Program != "" {
		if pool, err = children.Start(ctx, o.Program, workers, o.PhotoLimit, s.Dir.Paper("records", "vision.key")); err != nil {
			return err
		}
		defer pool.Close()
	}
	if out.summary.Damaged, err = s.Dir.ClearDamaged(o.Program != ""); err != nil {
		return err
	}
	out.summary.NoVision = o.Program == ""
	tell.Started(len(g.tasks))
	if err := each(ctx, g.tasks, readSteps, nil, workers, func(*task, bool) {}); err != nil {
		return err
	}
	if _, err := g.settle(); err != nil {
		return err
	}
	workers = min(workers, o.workers(g.tasks))
	err = each(ctx, g.tasks, photoSteps, pool, workers, func(t *task, redone bool) {
		if redone {
			out.summary.Redone++
		}
		if t.see.Looked {
			out.summary.Looked++
		}
		tell.Photo(t.r.Photo.File)
	})
	if err != nil {
		return err
	}
	for range mostSettled {
		changed, err := g.settle()
		if err != nil {
			return err
		}
		if err := each(ctx, changed, settledSteps, pool, workers, func(*task, bool) {}); err != nil {
			return err
		}
		measured, err := g.measureDepths(ctx, pool, workers)
		if err != nil {
			return err
		}
		if len(changed) == 0 && !measured {
			break
		}
	}
	for _, t := range g.tasks {
		t.tell()
		tell.Settled(t.r)
		out.summary.Drawn += t.drawn
	}
	out.earlier = g.by.Earlier
	out.State, out.perDay = g.state()
	for _, step := range seasonSteps {
		tell.Stage(step.name)
		if err := step.do(ctx, s, out); err != nil {
			return err
		}
	}
	season := s.published(out.State, out.perDay)
	season.Map = g.findMap(out.State)
	made, err := publish.Write(ctx, season, tell.Stage)
	sum := &out.summary
	sum.Packets, sum.Days, sum.NotMade = made.Packets, made.Days, made.NotMade
	sum.Person = sum.Person || len(made.NotMade) > 0
	return err
}

// published is what the season's documents are made of.
func (s *Season) published(now State, perDay []phones.Count) publish.Season {
	return publish.Season{
		Dir: s.Dir, Sheets: s.Register, Words: s.Words, Before: s.before, Records: now.Records, Report: now.Report,
		Problems: now.Problems, Notices: now.Notices, PerDay: perDay, Copied: now.Copied,
	}
}

// mostSettled is how often the season is settled anew by what was seen and
// scaled: a placard seen only now gives its jacket to the photos after it, that
// jacket's set-up another scale, and exposed bone that was scaled only then
// shows what lies under the plaster of others; what photos of one grid measure
// together comes after all that.
const mostSettled = 5

// keep writes the record where anything in it has changed; redone tells
// whether that is more than the file's date or place on the disk.
func (t *task) keep() (redone bool, err error) {
	t.r.SortNotes(noteOrder())
	if err := t.r.Save(t.season.Dir.Paper()); err != nil {
		return false, err
	}
	redone = t.r.LearnedSince(t.before)
	t.before = t.r.Kept()
	return redone, nil
}
