package pipeline

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// A Season is a season's folder with its register and words.log read.
type Season struct {
	Dir      string
	Register *register.Register
	Words    *words.Log

	// Notices are what Run and Check found on phones, tracks and places.
	Notices []Notice

	// norths is how magnetic, grid and true north lie to each other where and
	// when a photo of a jacket was taken. nil: not asked, plates show the north
	// that was stated.
	norths func(r *Record, jacket string) figure.Norths

	before   map[string]*paperwork.Packet // of the jackets that were carried over: what earlier seasons had of them
	perDay   []phones.Count               // by Run and Check
	tracks   trackFolder                  // no key: not asked
	assigned bool                         // the problems of photos.csv are in the register's
}

// ErrBusy says that another program writes to the season's paper folder.
var ErrBusy = errors.New("another fieldjacket is at work on this season: wait for it, or end it")

// Open reads a season's register. Faults of single rows are in
// Register.Problems; an error means that there is no season to work on.
func Open(dir string) (*Season, error) {
	r, err := register.Read(dir)
	if err != nil {
		return nil, err
	}
	log, problems := words.Read(dir)
	r.Problems = append(r.Problems, problems...)
	if err := r.Unread(); err != nil {
		return nil, err
	}
	s := &Season{Dir: dir, Register: r, Words: log, before: map[string]*paperwork.Packet{}}
	for _, j := range r.Jackets {
		if j.Carried != nil {
			var problems []register.Problem
			s.before[j.Number], problems = s.packetBefore(*j.Carried)
			r.Problems = append(r.Problems, problems...)
		}
	}
	s.norths = s.northsOf
	s.hear()
	return s, nil
}

// paper is a path below the one folder that is written to.
func (s *Season) paper(parts ...string) string {
	return filepath.Join(append([]string{s.Dir, "paper"}, parts...)...)
}

func (s *Season) photos() string { return filepath.Join(s.Dir, "photos") }

// references are those the season carries.
func (s *Season) references() []calibrate.Reference {
	refs := make([]calibrate.Reference, 0, len(s.Register.Season.References))
	for _, r := range s.Register.Season.References {
		ref := r.Reference
		if r.DiagonalsCm != nil {
			ref.DiagonalsCm = r.DiagonalsCm[:]
		}
		refs = append(refs, ref)
	}
	return refs
}

// folders are those below paper/.
var folders = []string{"records", "previews", "plates", "packets", "labels", "locality", "days"}

// lock makes the paper folder ready and keeps other writers out; the caller
// unlocks. What a killed run left half-written is swept.
func (s *Season) lock() (unlock func(), err error) {
	for _, f := range folders {
		if err := os.MkdirAll(s.paper(f), 0o755); err != nil {
			return nil, fmt.Errorf("paper folder: %w", err)
		}
	}
	l := flock.New(s.paper(".lock"))
	held, err := l.TryLock()
	if err != nil {
		return nil, fmt.Errorf("paper folder: %w", err)
	}
	if !held {
		return nil, ErrBusy
	}
	if _, err := keep.Sweep(s.paper()); err != nil {
		_ = l.Unlock()
		return nil, fmt.Errorf("paper folder: %w", err)
	}
	return func() { _ = l.Unlock() }, nil
}
