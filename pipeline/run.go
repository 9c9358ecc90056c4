package pipeline

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"slices"
	"time"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/paperwork"
)

// RunOptions changes how a season is run. The zero value is the default.
type RunOptions struct {
	Children   int           // vision children at work; 0: what the machine bears
	PhotoLimit time.Duration // time per photo; 0: children.PhotoLimit
	Program    string        // the vision program; empty: there is none, nothing is looked at and no plate drawn

	// PhotosGone and WordsRestored: photos and words that the last run knew and that are not here are gone for good.
	PhotosGone, WordsRestored bool
}

// A Reporter is told of the work as it goes. Its methods are called from one
// goroutine at a time.
type Reporter interface {
	Started(photos int)
	Photo(file string) // a photo is through its stages; what others show may still change it
	Settled(r *Record) // all photos are, and this is what the run learned of one; in the order of their files
	Stage(name string) // a stage of the whole season begins
}

// An outcome is all that a run knows when the photos are done.
type outcome struct {
	earlier earlier   // records of the runs before
	records []*Record // in the order of their files
	report  audit.Report
	papers  []paperwork.Packet // what each jacket's paper is made of; by packets
	summary Summary
}

// A Summary is how a run came out.
type Summary struct {
	Photos     int      `json:"photos"`     // files that are photos, also unreadable ones
	Scaled     int      `json:"scaled"`     // photos with a plane
	Unreadable int      `json:"unreadable"` // photos that could not be read or decoded
	Unassigned int      `json:"unassigned"` // photos that belong to no jacket and are not left out
	Conflicts  int      `json:"conflicts"`  // photos whose signs contradict each other
	Copies     []string `json:"copies"`     // files that count as one with another photo: "b.jpg: the same bytes as a.jpg, which stands for both"
	NoPlate    []string `json:"no_plate"`   // photos whose plates could not be drawn, with the reason
	NotMade    []string `json:"not_made"`   // packets, labels, lists and pages that could not be made, with the reason
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
	if err := s.asMuch(files, earlier, o); err != nil {
		return Summary{}, audit.Report{}, err
	}
	workers := o.Children
	if workers == 0 {
		workers = children.Fitting()
	}
	var crew *children.Crew
	if o.Program != "" {
		if crew, err = children.Start(ctx, o.Program, workers, o.PhotoLimit, s.paper("records", "vision.key")); err != nil {
			return Summary{}, audit.Report{}, err
		}
		defer crew.Close()
	}
	tell.Started(len(files))
	tasks := s.tasks(files, earlier)
	out := &outcome{earlier: earlier}
	out.summary.NoVision = o.Program == ""
	if err := each(ctx, tasks, readSteps, nil, workers, func(*task, bool) {}); err != nil {
		return out.summary, audit.Report{}, err
	}
	if err := errors.Join(s.arrange(tasks, earlier), s.keepTracks()); err != nil {
		return out.summary, audit.Report{}, err
	}
	err = each(ctx, tasks, photoSteps, crew, workers, func(t *task, redone bool) {
		if redone {
			out.summary.Redone++
		}
		if t.didLook {
			out.summary.Looked++
		}
		tell.Photo(t.r.Photo.File)
	})
	if err != nil {
		return out.summary, audit.Report{}, err
	}
	for _, late := range []struct {
		affected func([]*task) []*task
		steps    []step
	}{
		{s.recode, recodedSteps}, // a placard that was seen only now gives its jacket to the photos after it
		{s.reduce, recodedSteps}, // a photo that was seen only now may be the original of a reduced copy
		{s.uncover, drawSteps},   // exposed bone that was scaled only now shows what lies under the plaster of others
	} {
		changed := late.affected(tasks)
		if len(changed) == 0 {
			continue
		}
		if err := s.locateAll(tasks); err != nil {
			return out.summary, audit.Report{}, err
		}
		if err := each(ctx, changed, late.steps, crew, workers, func(*task, bool) {}); err != nil {
			return out.summary, audit.Report{}, err
		}
	}
	for _, t := range tasks {
		t.tell()
		tell.Settled(t.r)
		out.summary.Drawn += t.drawn
		out.records = append(out.records, t.r)
	}
	for _, step := range seasonSteps {
		tell.Stage(step.name)
		if err := step.do(s, ctx, out); err != nil {
			return out.summary, out.report, err
		}
	}
	return out.summary, out.report, nil
}

// tasks makes one for each file, with what earlier runs learned of it and
// what the register and its name say it belongs to.
func (s *Season) tasks(files []string, earlier earlier) []*task {
	belongs := s.belongs(files)
	refs := s.references()
	tasks, known := make([]*task, len(files)), earlier.byFile()
	for i, file := range files {
		t := &task{season: s, root: s.photos(), refs: refs, named: belongs[i], belongs: belongs[i], count: s.countsOnly(file), r: &Record{}}
		if r := known[file]; r != nil {
			t.r = r.clone()
		}
		t.r.Photo.File = file
		t.listen()
		t.before = t.r.kept
		tasks[i] = t
	}
	return tasks
}

// arrange finds for all photos at once which are copies, what each belongs to by the codes that earlier runs saw, when and
// where it was taken.
func (s *Season) arrange(tasks []*task, earlier earlier) error {
	markCopies(tasks)
	s.recode(tasks)
	if err := s.adopt(tasks, earlier); err != nil {
		return err
	}
	s.reduce(tasks)  // by what earlier runs saw
	s.uncover(tasks) // by what they scaled
	return s.locateAll(tasks)
}

// locateAll finds when and where all photos were taken, and how far each from what it belongs to by now.
func (s *Season) locateAll(tasks []*task) error {
	records, belongs := make([]*Record, len(tasks)), make([]assign.Belongs, len(tasks))
	for i, t := range tasks {
		records[i], belongs[i] = t.r, t.belongs
	}
	return s.locate(records, belongs)
}

// belongs settles what each file belongs to; words of photos.csv that cannot
// be used join the register's problems, once.
func (s *Season) belongs(files []string) []assign.Belongs {
	belongs, problems := assign.Photos(s.Register, s.Words, files)
	if !s.assigned {
		s.Register.Problems = append(s.Register.Problems, problems...)
		s.assigned = true
	}
	return belongs
}

// keep writes the record where anything in it has changed; redone tells
// whether that is more than the file's date or place on the disk.
func (t *task) keep() (redone bool, err error) {
	slices.SortStableFunc(t.r.Notes, func(a, b Note) int {
		return slices.Index(noteOrder, a.Stage) - slices.Index(noteOrder, b.Stage)
	})
	if err := t.season.save(t.r); err != nil || bytes.Equal(t.r.kept, t.before) {
		return false, err
	}
	var before Record
	redone = json.Unmarshal(t.before, &before) != nil || before.learned() != t.r.learned()
	t.before = t.r.kept
	return redone, nil
}
