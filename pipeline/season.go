package pipeline

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/carryover"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/missing"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/registerfile"
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

	before map[string]*paperwork.Packet // of the jackets that were carried over: what earlier seasons had of them
}

// Open reads a season's register. Faults of single rows are in
// Register.Problems; an error means that there is no season to work on.
func Open(dir string) (*Season, error) {
	r, err := registerfile.Read(dir)
	if err != nil {
		return nil, err
	}
	log, problems := words.Read(dir)
	r.Problems = append(append(r.Problems, problems...), askWho(log, r.Season)...)
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
	log.Apply(r)
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

// askWho names initials in words.log that stand in no list of people, each once.
func askWho(log *words.Log, season register.Season) (out []register.Problem) {
	asked := map[string]bool{}
	for _, line := range log.Lines {
		for _, who := range season.Unknown(line.By) {
			if !asked[who] && !line.Undone {
				asked[who] = true
				out = append(out, register.Problem{File: words.File, Row: line.Number, Column: "by", Value: who, Allowed: register.UnknownPerson, Lost: register.LostNothing})
			}
		}
	}
	return out
}

// ErrLess says that a season holds less than the last run knew, and that nothing was done.
var ErrLess = missing.ErrLess

// here is the season as it is held against what the last run knew.
func (s *Season) here() missing.Season {
	return missing.Season{Dir: s.Dir, Sheets: s.Register, Words: s.Words}
}
