package assembly

import (
	"strings"

	"fieldjacket/pipeline/register"
)

// CountsOnly tells whether a file lies in a folder that season.toml counts without plating it: a series for a model, a drone's run.
func CountsOnly(season register.Season, file string) bool {
	for _, folder := range season.CountOnly {
		if strings.HasPrefix(file, folder+"/") {
			return true
		}
	}
	return false
}

// noteAside says of a photo that counts as none of its own why it does not.
func (p *Photo) noteAside() {
	r := p.Record()
	r.DropNotes("copy")
	r.DropNotes("count")
	r.CopyOf, r.CountedOnly = "", p.Counted && (r.Readable() || r.New)
	if r.CountedOnly {
		r.New = false
		r.AddNote("count", "", false, "counted only, as season.toml says")
	}
	switch {
	case p.CopyOf != "":
		r.CopyOf = p.CopyOf
		r.AddNote("copy", "", false, "the same bytes as %s, which stands for both", p.CopyOf)
	case p.ReducedOf != "" && p.Wanted():
		r.CopyOf = p.ReducedOf
		r.AddNote("copy", "", false, "reduced copy of %s, which stands for both", p.ReducedOf)
	}
}

// takeOver takes over what a person wants, and notes what is contradicted.
func (p *Photo) takeOver() {
	r := p.Record()
	r.DropNotes("assign")
	r.NoScale = p.Evidence.Words.WithoutScale()
	if b := r.Belongs; b.Contradicts() && p.Wanted() && p.ReducedOf == "" {
		reason := b.Reason
		if b.ViewConflict {
			reason = b.ViewFrom
		}
		r.AddNote("assign", "write one line in photos.csv that settles it", true, "%s", reason)
	}
}
