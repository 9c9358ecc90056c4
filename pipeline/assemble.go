package pipeline

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"reflect"
	"slices"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/withhold"
)

// A gathering is every photo of a season with what is known of it, and what is
// settled for all of them at once.
type gathering struct {
	season   *Season
	tasks    []*task // in the order of their files
	earlier  record.All
	problems []register.Problem // words of photos.csv that cannot be used
	notices  []geotag.Notice    // of phones, tracks and places
	tracks   geotag.Tracks

	depths  map[string]*record.Depth  // what photos told together of the ground, by the name of the first one's record
	reliefs map[string]*figure.Relief // the same ready to be drawn, by the set's key
}

// gather lists the season's photos with what earlier runs learned of each.
func (s *Season) gather(ctx context.Context) (*gathering, error) {
	files, err := s.Dir.List(ctx)
	if err != nil {
		return nil, err
	}
	earlier, err := record.Load(s.Dir.Paper())
	if err != nil {
		return nil, err
	}
	g := &gathering{season: s, tasks: make([]*task, len(files)), earlier: earlier, depths: map[string]*record.Depth{}, reliefs: map[string]*figure.Relief{}}
	named, problems := assign.Photos(s.Register, s.Words, files)
	g.problems = problems
	known := earlier.ByFile()
	for i, file := range files {
		r := record.New(file)
		if k := known[file]; k != nil {
			r = k.Clone()
		}
		t := s.taskOf(r)
		t.named, t.count, t.before = named[i], s.countsOnly(file), r.Kept()
		g.tasks[i] = t
	}
	return g, nil
}

// gathered is all photos of the season with everything settled that a run
// would settle before it looks at them. Nothing is written.
func (s *Season) gathered(ctx context.Context) (*gathering, error) {
	g, err := s.gather(ctx)
	if err != nil {
		return nil, err
	}
	_, _, err = g.assemble()
	return g, err
}

// assemble settles what no photo tells alone: which are copies and which are
// counted only, what a renamed photo has learned under its earlier name, when
// and where each was taken, what it belongs to, and what others show of its
// grid's size, of the bone under its plaster and of the ground below its strings, and by what the plates of its jacket are turned. It is done anew whenever more is known of the
// photos, and by whoever asks after the season, so that all of them decide the
// same. It reads the tracks and what depths were kept, no other file, and writes none: renamed are those
// photos whose files of an earlier name have to be kept under the new one.
// changed are those for which anything is otherwise than before.
func (g *gathering) assemble() (changed []*task, renamed []rename, err error) {
	before := make([]settled, len(g.tasks))
	for i, t := range g.tasks {
		before[i] = t.settled()
	}
	records := g.records()
	markCopies(g.tasks)
	renamed = adopt(g.tasks, g.earlier)
	notices, doubts := geotag.Times(records, g.season.Register.Season)
	g.notices = notices
	for i, b := range coded(g.season.Register, records, g.named(), doubts) {
		g.tasks[i].r.Belongs = b
	}
	reduce(g.tasks)
	for _, t := range g.tasks {
		t.noteAside()
		t.takeOver()
	}
	if err := g.shareDepths(); err != nil {
		return nil, nil, err
	}
	g.shareEvidence()
	far, tracks, err := geotag.Places(records, g.season.Register, g.season.Dir)
	if err != nil {
		return nil, nil, err
	}
	g.notices, g.tracks = append(g.notices, far...), tracks
	for _, text := range withhold.Explain(g.season.Register) {
		g.notices = append(g.notices, geotag.Notice{Days: []string{}, Text: text})
	}
	for i, t := range g.tasks {
		if !reflect.DeepEqual(before[i], t.settled()) {
			changed = append(changed, t)
		}
	}
	return changed, renamed, nil
}

// settled is all that [gathering.assemble] settles of a photo and its plates depend on.
type settled struct {
	belongs           assign.Belongs
	noScale           string
	when              *phones.When
	copyOf, reducedOf string
	under             string
	shown             []evidence.Shown
	turned            map[string]plate.Way
	ground            string
}

func (t *task) settled() settled {
	return settled{t.r.Belongs, t.r.NoScale, t.r.When, t.copyOf, t.reducedOf, t.covered.Key, t.p.Shown, t.turned, t.ground}
}

// files are the photos, as slash paths below photos/.
func (g *gathering) files() []string {
	files := make([]string, len(g.tasks))
	for i, t := range g.tasks {
		files[i] = t.r.Photo.File
	}
	return files
}

// mostPixels is the size of the largest photo.
func mostPixels(tasks []*task) (most int64) {
	for _, t := range tasks {
		most = max(most, int64(t.r.Photo.WidthPx)*int64(t.r.Photo.HeightPx))
	}
	return most
}

// records are those of the photos, in the order of their files.
func (g *gathering) records() []*Record {
	records := make([]*Record, len(g.tasks))
	for i, t := range g.tasks {
		records[i] = t.r
	}
	return records
}

// named is what words and names alone say that each photo belongs to.
func (g *gathering) named() []assign.Belongs {
	named := make([]assign.Belongs, len(g.tasks))
	for i, t := range g.tasks {
		named[i] = t.named
	}
	return named
}

// task is the photo of a file; nil: there is none.
func (g *gathering) task(file string) *task {
	i := slices.IndexFunc(g.tasks, func(t *task) bool { return t.r.Photo.File == file })
	if i < 0 {
		return nil
	}
	return g.tasks[i]
}

// A rename is a photo that no run has looked at under its present name, and
// the name of the record that it had before.
type rename struct {
	task *task
	was  string
}

// keep copies what was found in the photo from its earlier name to its present one.
func (n rename) keep() error {
	s := n.task.season
	for _, file := range []func(name string) string{record.MarksFile, record.PreviewFile, record.SmallFile} {
		to := file(n.task.r.Name())
		content, err := os.ReadFile(s.Dir.Paper(file(n.was)))
		if errors.Is(err, fs.ErrNotExist) {
			continue // then look finds that it does not stand, and is done
		}
		if err == nil {
			err = keep.Bytes(s.Dir.Paper(to), 0o644, content)
		}
		if err == nil {
			err = s.Dir.Finish(to)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// shareEvidence gives each photo what the others tell of its grid's size and of
// the bone under its plaster, and turns its plates as theirs.
func (g *gathering) shareEvidence() {
	all := make([]*evidence.Photo, len(g.tasks))
	var counting []*evidence.Photo
	for i, t := range g.tasks {
		all[i] = &t.p
		if t.wanted() {
			counting = append(counting, &t.p)
		}
	}
	evidence.Share(all, func(i int) bool { return g.tasks[i].wanted() }, g.season.references())
	for _, t := range g.tasks {
		t.covered = evidence.Covered{}
		if t.wanted() {
			t.covered = t.p.Uncover(counting, t.see.Folder)
		}
	}
	g.turnAlike()
}
