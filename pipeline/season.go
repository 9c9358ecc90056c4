package pipeline

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/carryover"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// ErrBusy says that another program writes to the season's paper folder.
var ErrBusy = folder.ErrBusy

// A Season is a season's folder with its register and words.log as they were
// read by [Open]. Nothing changes it, so that several may use it at a time.
type Season struct {
	Dir      folder.Dir
	Register *register.Register
	Words    *words.Log

	// norths is how magnetic, grid and true north lie to each other where and
	// when a photo of a jacket was taken. nil: not asked, plates show the north
	// that was stated.
	norths func(r *Record, jacket string) figure.Norths

	before map[string]*paperwork.Packet // of the jackets that were carried over: what earlier seasons had of them
}

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
	s := &Season{Dir: folder.Dir(dir), Register: r, Words: log, before: map[string]*paperwork.Packet{}}
	for _, j := range r.Jackets {
		if j.Carried != nil {
			var problems []register.Problem
			s.before[j.Number], problems = carryover.Packet(*j.Carried, r.Season.Print)
			r.Problems = append(r.Problems, problems...)
		}
	}
	s.norths = s.northsOf
	s.hear()
	return s, nil
}

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
