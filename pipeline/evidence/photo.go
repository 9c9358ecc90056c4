package evidence

import (
	"slices"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// A Photo is what is known of one photo when it is weighed.
type Photo struct {
	*record.Record
	Sheets *register.Register     // nil: the photo belongs to no season
	Words  words.PhotoAnnotations // what people said of it
	Marks  *figure.Marks          // the places among that; nil: none
	Shown  []Shown                // what other photos confirm of sizes
	Ground *figure.Ground         // how deep the ground lies, as it tells together with other photos of one unmoved grid; nil: not known
}

// Of is what is known of the photo of a record in a season.
func Of(r *record.Record, sheets *register.Register, log *words.Log) Photo {
	said := log.Photo(r.Photo.File)
	return Photo{Record: r, Sheets: sheets, Words: said, Marks: MarksOf(said)}
}

// Manual is the reference that a person put in the photo; nil: nobody did.
func (p Photo) Manual() *words.ManualReference {
	if p.Words.Reference == nil {
		return nil
	}
	return &p.Words.Reference.Value
}

// SetUp is the set-up that the photo belongs to as one of a jacket; nil: not known.
func (p Photo) SetUp(number string) *register.SetUp { return SetUp(p.Sheets, p.Belongs, number) }

// SetUp is the set-up that a photo of a jacket belongs to; nil: not known.
func SetUp(sheets *register.Register, belongs assign.Belongs, number string) *register.SetUp {
	var only *register.SetUp
	for i := range sheets.SetUps {
		u := &sheets.SetUps[i]
		switch {
		case belongs.SetUp != "":
			if u.Name == belongs.SetUp {
				return u
			}
		case number != "" && slices.Contains(u.Jackets, number):
			if only != nil {
				return nil // two: nobody said which
			}
			only = u
		}
	}
	return only
}

// OneSetUp is the set-up that a person named for the photo, or the one that all
// its jackets have; nil: not known, or the block lies no longer under its grid.
func (p Photo) OneSetUp() (set *register.SetUp) {
	if p.Sheets == nil || p.Belongs.View.Displaced() && p.Belongs.SetUp == "" {
		return nil
	}
	numbers := p.Belongs.Jackets
	if p.Belongs.SetUp != "" {
		numbers = []string{""} // a person named it
	}
	for i, number := range numbers {
		u := p.SetUp(number)
		if u == nil || i > 0 && u != set {
			return nil
		}
		set = u
	}
	return set
}
