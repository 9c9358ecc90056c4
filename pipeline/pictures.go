package pipeline

import (
	"path/filepath"

	"fieldjacket/pipeline/record"
)

// Pictures are the files that show a photo; "" where there is none.
type Pictures struct {
	Original string // the phone's own
	Preview  string // upright, reduced
	Small    string // smaller still, for contact sheets and day pages
	Plate    string // the first
}

// Pictures are the files that show the photo of a record of this season.
func (s *Season) Pictures(r *record.Record) Pictures {
	p := Pictures{Original: filepath.Join(s.Dir.Photos(), filepath.FromSlash(r.Photo.File)), Small: record.Small(s.Dir.Paper(), r)}
	if preview := record.PreviewFile(r.Name()); s.Dir.Has(preview) {
		p.Preview = s.Dir.Paper(filepath.FromSlash(preview))
	}
	if len(r.Plates) > 0 {
		p.Plate = s.Dir.Paper(filepath.FromSlash(r.Plates[0].File))
	}
	return p
}
