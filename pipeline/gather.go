package pipeline

import (
	"context"
	"errors"
	"io/fs"
	"os"

	"fieldjacket/pipeline/assembly"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// A gathering is every photo of a season with what is known of it, and what is
// settled for all of them at once.
type gathering struct {
	season   *Season
	by       assembly.Season
	tasks    []*task // in the order of their files
	of       map[*assembly.Photo]*task
	problems []register.Problem // words of photos.csv that cannot be used
	notices  []geotag.Notice    // of phones, tracks and places
	tracks   geotag.Tracks
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
	g := &gathering{season: s, tasks: make([]*task, len(files)), of: make(map[*assembly.Photo]*task, len(files)), by: assembly.Season{
		Sheets: s.Register, Dir: s.Dir, References: s.references(), Earlier: earlier, Depths: assembly.DepthsBelow(s.Dir.Paper())}}
	named, problems := assign.Photos(s.Register, s.Words, files)
	g.problems = problems
	known := earlier.ByFile()
	for i, file := range files {
		r := record.New(file)
		if k := known[file]; k != nil {
			r = k.Clone()
		}
		t := s.taskOf(r)
		t.photo.Named, t.photo.Counted, t.before = named[i], assembly.CountsOnly(s.Register.Season, file), r.Kept()
		g.tasks[i], g.of[t.photo] = t, t
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
	_, err = g.assemble()
	return g, err
}

// assemble settles all photos by what is known of them now.
func (g *gathering) assemble() (assembly.Assembled, error) {
	settled, err := g.by.Assemble(photosOf(g.tasks))
	if err == nil {
		g.notices, g.tracks = settled.Notices, settled.Tracks
	}
	return settled, err
}

// settle settles the season by what is known now, keeps what goes with that,
// and gives the photos for which it changes anything.
func (g *gathering) settle() (changed []*task, err error) {
	settled, err := g.assemble()
	if err != nil {
		return nil, err
	}
	for _, r := range settled.Renamed {
		if err := g.keepRenamed(r); err != nil {
			return nil, err
		}
	}
	for _, p := range settled.Changed {
		changed = append(changed, g.of[p])
	}
	return changed, g.tracks.Keep(g.season.Dir)
}

// keepRenamed copies what was found in a photo from its earlier name to its present one.
func (g *gathering) keepRenamed(renamed assembly.Renamed) error {
	dir := g.season.Dir
	for _, file := range []func(name string) string{record.MarksFile, record.PreviewFile, record.SmallFile} {
		to := file(renamed.Name())
		content, err := os.ReadFile(dir.Paper(file(renamed.Was)))
		if errors.Is(err, fs.ErrNotExist) {
			continue // then look finds that it does not stand, and is done
		}
		if err == nil {
			err = keep.Bytes(dir.Paper(to), 0o644, content)
		}
		if err == nil {
			err = dir.Finish(to)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// photosOf are those of some tasks.
func photosOf(tasks []*task) []*assembly.Photo {
	photos := make([]*assembly.Photo, len(tasks))
	for i, t := range tasks {
		photos[i] = t.photo
	}
	return photos
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
func (g *gathering) records() []*record.Record {
	records := make([]*record.Record, len(g.tasks))
	for i, t := range g.tasks {
		records[i] = t.r
	}
	return records
}
