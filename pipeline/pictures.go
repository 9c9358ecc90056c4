package pipeline

import "path/filepath"

// previewFile and smallFile are the pictures that look makes of the photo of
// the record of a name, below paper/.
func previewFile(name string) string { return "previews/" + name + ".jpg" }

func smallFile(name string) string { return "previews/" + name + ".small.jpg" }

// Pictures are the files that show a photo; "" where there is none.
type Pictures struct {
	Original string // the phone's own
	Preview  string // upright, reduced
	Small    string // smaller still, for contact sheets and day pages
	Plate    string // the first
}

// Pictures are the files that show the photo of a record of this season.
func (s *Season) Pictures(r *Record) Pictures {
	p := Pictures{Original: filepath.Join(s.photos(), filepath.FromSlash(r.Photo.File)), Small: s.small(r)}
	if preview := previewFile(r.name()); s.has(preview) {
		p.Preview = s.paper(filepath.FromSlash(preview))
	}
	if len(r.Plates) > 0 {
		p.Plate = s.paper(filepath.FromSlash(r.Plates[0].File))
	}
	return p
}

// small is the path of a record's small picture, "" where there is none.
func (s *Season) small(r *Record) string {
	if file := smallFile(r.name()); s.has(file) {
		return s.paper(file)
	}
	return ""
}
