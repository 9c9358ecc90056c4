package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// All are the records of the runs before, in the order of their names. A
// killed run can leave two of one file: of the picture that was there, and of
// the one that has taken its name.
type All []*Record

// ByFile is the first record of each file.
func (a All) ByFile() map[string]*Record {
	out := make(map[string]*Record, len(a))
	for _, r := range a {
		if out[r.Photo.File] == nil {
			out[r.Photo.File] = r
		}
	}
	return out
}

// recordBytes is the most a record may take on the disk; common ones take a few kB.
const recordBytes = 1 << 20

// Load reads every record below a season's paper folder. One that is not whole
// is left out: its photo is simply looked at again. A disk that does not give
// one is an error, since plates would go with it.
func Load(paper string) (All, error) {
	folder := filepath.Join(paper, "records")
	names, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(e os.DirEntry) bool {
		return !strings.HasSuffix(e.Name(), ".json") || strings.HasSuffix(e.Name(), marksEnding) || strings.HasSuffix(e.Name(), depthEnding)
	})
	out, failed := make(All, len(names)), make([]error, len(names))
	var wg sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wg.Go(func() {
			for i := w; i < len(names); i += workers {
				out[i], failed[i] = load(filepath.Join(folder, names[i].Name()))
			}
		})
	}
	wg.Wait()
	if err := errors.Join(failed...); err != nil {
		return nil, fmt.Errorf("%w\n%w", err, register.ErrUnread)
	}
	return slices.DeleteFunc(out, func(r *Record) bool { return r == nil }), nil
}

// load is the record in a file; nil: what is there is none.
func load(path string) (*Record, error) {
	text, err := keep.Read(path, recordBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil // another run has taken it away since
	}
	if err != nil {
		return nil, fmt.Errorf("paper/records: %w", err)
	}
	var r Record
	if len(text) > recordBytes || json.Unmarshal(text, &r) != nil || r.Photo.File == "" || r.Name()+".json" != filepath.Base(path) {
		return nil, nil
	}
	r.kept = text
	return &r, nil
}

// Save writes the record below a season's paper folder whole or not at all,
// where it does not stand so already. One that is too large to be read again is
// an error.
func (r *Record) Save(paper string) error {
	text, err := json.Marshal(r)
	if err != nil {
		return fmt.Errorf("%s: record: %w", r.Photo.File, err)
	}
	if text = append(text, '\n'); bytes.Equal(text, r.kept) {
		return nil
	}
	if len(text) > recordBytes { // it would not be read again
		return fmt.Errorf("%s: its record takes %d bytes, limit %d: take the photo out of photos/", r.Photo.File, len(text), recordBytes)
	}
	if err := keep.Bytes(filepath.Join(paper, "records", r.Name()+".json"), 0o600, text); err != nil {
		return err
	}
	r.kept = text
	return nil
}

// Clone is a record that can be changed without changing r.
func (r *Record) Clone() *Record {
	c := *r
	c.Keys, c.Notes, c.Plates = map[string]string{}, slices.Clone(r.Notes), slices.Clone(r.Plates)
	maps.Copy(c.Keys, r.Keys)
	return &c
}

// SortNotes puts the notes in the order of the stages.
func (r *Record) SortNotes(stageOrder []string) {
	slices.SortStableFunc(r.Notes, func(a, b Note) int {
		return slices.Index(stageOrder, a.Stage) - slices.Index(stageOrder, b.Stage)
	})
}

// Kept is the record as it was last read or saved; nil: never.
func (r *Record) Kept() []byte { return r.kept }

// LearnedSince tells whether the record says more or else of its photo than it
// did when it was kept as before; the file's date and place on the disk do not count.
func (r *Record) LearnedSince(before []byte) bool {
	if bytes.Equal(before, r.kept) {
		return false
	}
	var was Record
	return json.Unmarshal(before, &was) != nil || was.learned() != r.learned()
}

// learned is the hash of what a record says of its photo, whatever the file's
// date and place on the disk.
func (r *Record) learned() string {
	c := *r
	c.Photo.FileState.ModTimeNs, c.Photo.FileState.Inode = 0, 0
	return keep.Hash(&c)
}
