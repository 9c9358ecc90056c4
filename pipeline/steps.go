package pipeline

import (
	"context"
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/scale"
)

// A step is one named stage that every photo goes through.
type step struct {
	name string

	// recipe is raised by hand whenever the stage gives another result for
	// the same input, so that the next run does it anew. A test holds the
	// results of each recipe.
	recipe int

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
}

// readSteps come first for every photo, since photos that hold the same bytes
// must be known before more is done; they need no vision child.
var readSteps = []step{
	{name: "read", recipe: 1, do: (*task).read},
}

// photoSteps are the stages of one photo after that, in order.
var photoSteps = []step{
	{name: "look", recipe: 14, reads: (*task).lookReads, stands: (*task).lookStands, sees: true, do: (*task).look},
	{name: "refine", recipe: 2, reads: (*task).refineReads, stands: (*task).refineStands, sees: true, do: (*task).refine},
	{name: "fit", recipe: 8, reads: func(t *task) any { return scale.Input{Photo: t.p, Carried: t.refs}.Reads() }, do: (*task).fit},
	{name: "assign", recipe: 1, do: (*task).assign},
	{name: "draw", recipe: 5, reads: (*task).drawReads, stands: (*task).drawStands, do: (*task).draw},
}

// settledSteps are those that depend on what is settled for all photos at once:
// the fit too, since a jacket's set-up may have its own diagonals.
var settledSteps = stepsNamed("fit", "assign", "draw")

// looseSteps are those of a photo that belongs to no season.
var looseSteps = append(slices.Clone(readSteps), stepsNamed("look", "fit")...)

// stepsNamed are those of photoSteps with the given names.
func stepsNamed(names ...string) (out []step) {
	for _, s := range photoSteps {
		if slices.Contains(names, s.name) {
			out = append(out, s)
		}
	}
	return out
}

// seasonSteps are the stages of a whole season, done when all photos are and before its documents.
var seasonSteps = []struct {
	name string
	do   func(*Season, context.Context, *outcome) error
}{
	{"tidy", (*Season).tidy},
	{"audit", (*Season).audit},
}

// A task is one photo on its way through the steps.
type task struct {
	season     *Season // nil: a loose photo, which is only read, looked at and fitted
	root       string  // the photos folder
	refs       []calibrate.Reference
	named      assign.Belongs  // what words and names alone settle
	copyOf     string          // another file with the same bytes, which stands for both
	reducedOf  string          // the original of this reduced copy, which stands for both
	child      *children.Child // nil: there is no vision program
	opencv     string
	found      []look.Found     // by look, one per looked-for reference
	p          evidence.Photo   // the same record with what people and sheets say of it
	covered    evidence.Covered // what other photos tell of the bone under the plaster
	made       []Plate          // what the plates have to say
	doubts     []string         // what on them a person has to settle
	drawn      int              // plates drawn by this run
	considered bool             // look also tells what it considered
	didLook    bool             // looked at in this pass
	count      bool             // of a folder that is counted only

	before []byte // the record as it was kept before these steps
	r      *Record
}

// through takes the task through the steps. Faults of the photo become notes;
// an error means that the run cannot go on.
func (t *task) through(ctx context.Context, steps []step) error {
	for _, step := range steps {
		if step.name != "read" {
			if !t.wanted() {
				return t.withdraw()
			}
			if t.reducedOf != "" && step.name != "look" {
				return t.withdraw()
			}
		}
		if step.sees && t.child == nil {
			continue
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
		if key != "" && !t.r.ToRepeat(step.name) {
			t.r.Keys[step.name] = key
		}
	}
	return nil
}

// taskOf is the task of a photo of which nothing is settled yet.
func (s *Season) taskOf(r *record.Record) *task {
	return &task{season: s, root: s.Dir.Photos(), refs: s.references(), r: r, p: evidence.Of(r, s.Register, s.Words)}
}

// composed is what the photo's plates say.
func (t *task) composed() []record.Plate {
	norths := func(r *record.Record, jacket string) figure.Norths {
		return evidence.Norths(t.season.Register, r, jacket)
	}
	return plate.Compose(plate.Input{Photo: t.p, Covered: t.covered, Norths: norths})
}
