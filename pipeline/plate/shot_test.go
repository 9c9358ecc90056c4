package plate

import (
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// A season is what the sheets of an invented season say.
type season struct {
	Register *register.Register
	norths   func(r *record.Record, jacket string) figure.Norths
}

// A shot is an invented photo of it.
type shot struct {
	season  *season
	r       *record.Record
	said    *figure.Marks          // places that a person pointed at
	heard   words.PhotoAnnotations // what a person said besides
	covered evidence.Covered
	turned  map[string]Way
	ground  *figure.Ground
	doubts  []string // of the plates that were made last
}

func (s *shot) input() Input {
	return Input{Photo: evidence.Photo{Record: s.r, Sheets: s.season.Register, Words: s.heard, Marks: s.said, Ground: s.ground}, Covered: s.covered, Norths: s.season.norths, Turned: s.turned}
}

// plate is what one plate of the photo says.
func (s *shot) plate(number string, turned bool) look.Plate {
	of := asSeen
	if turned {
		of = mirrored
	}
	p := s.input().plate(number, of, nil)
	s.doubts = p.Doubts
	return p.Made
}

func (s *shot) plates() []record.Plate {
	all := Compose(s.input())
	s.doubts = Doubts(all)
	return all
}

// uncover brings to each photo what the others show of the bone under its plaster.
func (s *season) uncover(shots []*shot) {
	var all []*evidence.Photo
	for _, k := range shots {
		in := k.input()
		all = append(all, &in.Photo)
	}
	for i, k := range shots {
		k.covered = all[i].Uncover(all, "photos")
	}
}
