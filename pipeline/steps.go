package pipeline

import (
	"context"
	"fmt"

	"fieldjacket/pipeline/assembly"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/record"
)

// A step is one named stage that every photo goes through.
type step struct {
	name string

	// recipe is raised by hand whenever the stage gives another result for
	// the same input, so that the next run does it anew. A test holds the
	// results of each recipe.
	recipe int

	// prepare makes what reads and do both need. nil: nothing.
	prepare func(*task)

	// reads gives everything the stage depends on, to be hashed; nil for a
	// photo in which it has nothing to do. No reads: the stage is cheap and
	// always done.
	reads func(*task) any

	// stands tells whether what the stage wrote is still there. nil: it
	// writes nothing but the record.
	stands func(*task) bool

	// sees: the stage needs a vision child; without one it is passed over,
	// and what an earlier run found stands.
	sees bool

	do func(*task, context.Context) error

	first   bool // done before anything is settled, since photos that hold the same bytes must be known
	settled bool // depends on what is settled for all photos at once
	copies  bool // done for a reduced copy too
}

// steps are the stages of one photo, in order: a new one is a line here and its function.
var steps = []step{
	{name: "read", recipe: 1, first: true, copies: true, do: read},
	{name: "look", recipe: 18, reads: lookReads, stands: lookStands, sees: true, copies: true, do: lookAtPhoto},
	{name: "refine", recipe: 2, reads: refineReads, stands: refineStands, sees: true, do: refine},
	{name: "fit", recipe: 9, reads: (*task).fitReads, settled: true, do: (*task).fit}, // a set-up may have its own diagonals
	{name: "draw", recipe: 6, prepare: (*task).compose, reads: drawReads, stands: drawStands, settled: true, do: draw},
}

var (
	readSteps    = stepsWhere(func(s step) bool { return s.first })
	photoSteps   = stepsWhere(func(s step) bool { return !s.first })
	settledSteps = stepsWhere(func(s step) bool { return s.settled })
	lookSteps    = stepsWhere(func(s step) bool { return s.name == "look" })
)

func stepsWhere(wanted func(step) bool) (out []step) {
	for _, s := range steps {
		if wanted(s) {
			out = append(out, s)
		}
	}
	return out
}

// noteOrder is the order in which a record keeps its notes, whichever stage was
// done anew: those that say why a photo counts as none of its own come behind what was read, and what it belongs to before it is drawn.
func noteOrder() (order []string) {
	for _, s := range steps {
		switch order = append(order, s.name); s.name {
		case "read":
			order = append(order, "copy", "count")
		case "fit":
			order = append(order, record.DepthStage, "assign")
		}
	}
	return order
}

// seasonSteps are the stages of a whole season, done when all photos are and before its documents.
var seasonSteps = []struct {
	name string
	do   func(context.Context, *Season, *outcome) error
}{
	{"tidy", tidy},
	{"audit", count},
}

// A task is one photo on its way through the steps.
type task struct {
	season   *Season
	photo    *assembly.Photo
	see      observe.Photo  // the same record as it is looked at
	composed []record.Plate // what its plates say; nil: they were not composed, or it has none
	drawn    int            // plates drawn by this run

	before []byte // the record as it was kept before these steps
	r      *record.Record
}

// through takes the task through the steps. Faults of the photo become notes;
// an error means that the run cannot go on.
func (t *task) through(ctx context.Context, steps []step) error {
	for _, step := range steps {
		if !step.first && t.r.ToRepeat("read") {
			return nil // nothing is known against what stands
		}
		if !step.first && !t.photo.Wanted() || t.photo.ReducedOf != "" && !step.copies {
			return t.withdraw()
		}
		if step.sees && t.see.Child == nil {
			continue
		}
		if step.prepare != nil {
			step.prepare(t)
		}
		var key string
		if step.reads != nil {
			reads := step.reads(t)
			if reads == nil {
				delete(t.r.Keys, step.name)
				t.r.DropNotes(step.name)
				continue
			}
			key = keep.Hash(step.name, step.recipe, reads)
			if t.r.Keys[step.name] == key && (step.stands == nil || step.stands(t)) {
				continue
			}
		}
		delete(t.r.Keys, step.name)
		t.r.DropNotes(step.name)
		if err := step.do(t, ctx); err != nil {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			return fmt.Errorf("%s: %s: %w", t.r.Photo.File, step.name, err)
		}
		if key != "" && !t.r.ToRepeat(step.name) && !t.r.ToRepeat("look") {
			t.r.Keys[step.name] = key
		}
	}
	return nil
}

// compose makes what the photo's plates say.
func (t *task) compose() { t.composed = t.photo.Plates() }

// taskOf is the task of a photo of which nothing is settled yet.
func (s *Season) taskOf(r *record.Record) *task {
	return &task{season: s, r: r, photo: &assembly.Photo{Evidence: evidence.Of(r, s.Register, s.Words)}, see: observe.Photo{Record: r, Folder: s.Dir.Photos(), Season: s.Dir, Refs: s.references()}}
}
