package pipeline

import (
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
)

// earlier are the records of the runs before, in the order of their names. A
// killed run can leave two of one file: of the picture that was there, and of
// the one that has taken its name.
type earlier []*Record

// byFile is the first record of each file.
func (e earlier) byFile() map[string]*Record {
	out := make(map[string]*Record, len(e))
	for _, r := range e {
		if out[r.Photo.File] == nil {
			out[r.Photo.File] = r
		}
	}
	return out
}

// clone is a record that can be changed without changing r.
func (r *Record) clone() *Record {
	c := *r
	c.Keys, c.Notes, c.Plates = map[string]string{}, slices.Clone(r.Notes), slices.Clone(r.Plates)
	maps.Copy(c.Keys, r.Keys)
	return &c
}

// learned is the hash of what a record says of its photo, whatever the file's
// date and place on the disk.
func (r *Record) learned() string {
	c := *r
	c.Photo.Stamp.ModTimeNs, c.Photo.Stamp.Inode = 0, 0
	return hashOf(&c)
}

// records reads every record of earlier runs. One that cannot be read is left
// out: its photo is simply looked at again.
func (s *Season) records() (earlier, error) {
	folder := s.paper("records")
	names, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(e os.DirEntry) bool {
		return !strings.HasSuffix(e.Name(), ".json") || strings.HasSuffix(e.Name(), marksEnding)
	})
	out := make(earlier, len(names))
	var wg sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wg.Go(func() {
			for i := w; i < len(names); i += workers {
				out[i] = readRecord(folder, names[i])
			}
		})
	}
	wg.Wait()
	return slices.DeleteFunc(out, func(r *Record) bool { return r == nil }), nil
}

// readRecord is the record in a file; nil: it cannot be read.
func readRecord(folder string, entry os.DirEntry) *Record {
	if info, err := entry.Info(); err != nil || info.Size() > recordBytes {
		return nil
	}
	text, err := os.ReadFile(filepath.Join(folder, entry.Name()))
	if err != nil {
		return nil
	}
	var r Record
	if json.Unmarshal(text, &r) != nil || r.Photo.File == "" || r.name()+".json" != entry.Name() {
		return nil
	}
	r.kept = text
	return &r
}

// markCopies tells files that hold the same bytes from the first of them, in
// the order of their names: a photo counts once.
func markCopies(tasks []*task) {
	first := map[string]string{}
	for _, t := range tasks {
		t.copyOf = ""
		sum := t.r.Photo.SHA256
		if sum == "" || !t.r.Readable() || t.count {
			continue
		}
		if file, ok := first[sum]; ok {
			t.copyOf = file
		} else {
			first[sum] = t.r.Photo.File
		}
	}
}

// adopt gives a photo that no run has looked at under its present name what
// earlier runs saw in the same bytes under another: a photo that was renamed or
// moved is not looked at again. The old record goes with its file, in tidy.
func adopt(tasks []*task, earlier earlier) (renamed []rename) {
	seen := map[string]*Record{}
	for _, r := range earlier {
		if r.Keys["look"] != "" && seen[r.Photo.SHA256] == nil {
			seen[r.Photo.SHA256] = r
		}
	}
	for _, t := range tasks {
		old := seen[t.r.Photo.SHA256]
		if old == nil || t.r.Keys["look"] != "" || !t.wanted() {
			continue
		}
		t.r.Codes, t.r.Content, t.r.Sightings = old.Codes, old.Content, old.Sightings
		for _, stage := range []string{"look", "fit"} {
			t.r.Keys[stage] = old.Keys[stage]
			for _, n := range old.Notes {
				if n.Stage == stage {
					t.r.Notes = append(t.r.Notes, n)
				}
			}
		}
		renamed = append(renamed, rename{t, old.name()})
	}
	return renamed
}
